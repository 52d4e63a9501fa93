import { createRandom } from '../../../shared/numerics/random.ts';
import { rootMeanSquare, type Share, shareOf } from '../table.ts';
import { type Judged, quantities, type Quantity, type SweepVerdict } from './judge-sweep.ts';

/** Coverage and errors of one quantity over many sweeps. Errors and widths in its own unit. */
export interface QuantityTally {
  held: Share;
  rms: number;
  meanWidth: number;
  /** Seeds whose interval does not hold the truth. */
  missed: string[];
}

/** The verdicts on many sweeps, added up. */
export interface Tally {
  kind: string;
  sweeps: number;
  wrong: string[];
  quantities: Record<Quantity, QuantityTally>;
  /** Both ends together, where the oracle fit found them too: errors and their ratio. */
  edges: {
    count: number;
    rms: number;
    oracleRms: number;
    ratio: number;
    /** 95 % interval of the ratio: what other seeds would have given. */
    ratioCi: [number, number];
    oracleFailed: number;
  };
}

/** Adds up verdicts under one name. */
export function tally(kind: string, verdicts: SweepVerdict[]): Tally {
  const of = (name: Quantity) =>
    verdicts.flatMap((verdict) => {
      const judged = verdict.judged[name];
      return judged ? [{ verdict, judged }] : [];
    });
  const edges = [...of('low'), ...of('high')]
    .map(({ judged }) => judged)
    .filter((judged): judged is Required<Judged> => judged.oracleError !== undefined);
  const rms = rootMeanSquare(edges.map(({ error }) => error));
  const oracleRms = rootMeanSquare(edges.map(({ oracleError }) => oracleError));
  const wrongOf = ({ kind, seed, wrong }: SweepVerdict) => (wrong ? [`${kind} ${seed}: ${wrong}`] : []);
  return {
    kind,
    sweeps: verdicts.length,
    wrong: verdicts.flatMap(wrongOf),
    quantities: Object.fromEntries(quantities.map((name) => [name, tallyOf(of(name))])) as Tally['quantities'],
    edges: {
      count: edges.length,
      rms,
      oracleRms,
      ratio: rms / oracleRms,
      ratioCi: ratioInterval(edges),
      oracleFailed: verdicts.filter((verdict) => verdict.oracleFailed).length,
    },
  };
}

/** Percentiles of the ratio over resampled pairs of errors (paired bootstrap, Efron 1979, Annals of Statistics 7, 1). */
function ratioInterval(edges: Required<Judged>[]): [number, number] {
  if (edges.length === 0) return [Number.NaN, Number.NaN];
  const random = createRandom(1);
  const replicates = 1000;
  const ratios = Float64Array.from({ length: replicates }, () => {
    let [own, oracle] = [0, 0];
    for (let k = 0; k < edges.length; k += 1) {
      const { error, oracleError } = edges[Math.floor(edges.length * random.uniform())]!;
      own += error * error;
      oracle += oracleError * oracleError;
    }
    return Math.sqrt(own / oracle);
  }).sort();
  return [ratios[0.025 * replicates]!, ratios[0.975 * replicates - 1]!];
}

function tallyOf(all: { verdict: SweepVerdict; judged: Judged }[]): QuantityTally {
  const missed = all.filter(({ judged }) => !judged.held);
  return {
    held: shareOf(all.length - missed.length, all.length),
    rms: rootMeanSquare(all.map(({ judged }) => judged.error)),
    meanWidth: all.reduce((sum, { judged }) => sum + judged.width, 0) / all.length,
    missed: missed.map(({ verdict }) => `${verdict.kind} ${verdict.seed}`),
  };
}
