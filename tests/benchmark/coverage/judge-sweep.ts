import { analyze } from '../../../shared/analysis/analyze.ts';
import { drawSweep, type Kind } from '../sweep/kinds.ts';
import { oracleAnswer } from './oracle.ts';

/** What is judged of every sweep. */
export const quantities = ['low', 'high', 'plateau', 'lag'] as const;
export type Quantity = (typeof quantities)[number];

/** One sweep to simulate and judge. */
export interface SweepTask {
  kind: Kind;
  seed: number;
}

/** One value against the truth. `oracleError` is the error of the oracle fit, for the ends. */
export interface Judged {
  error: number;
  width: number;
  held: boolean;
  oracleError?: number;
}

/** How the result of one sweep compares with the truth. */
export interface SweepVerdict extends SweepTask {
  /** What is wrong with the status, in words. */
  wrong?: string;
  /** The oracle fit did not converge, or lost an end. */
  oracleFailed: boolean;
  judged: Partial<Record<Quantity, Judged>>;
}

/** Simulates one sweep, analyzes it, and compares the result with the truth and with the oracle fit. */
export function run({ kind, seed }: SweepTask): SweepVerdict {
  const drawn = drawSweep(kind, seed);
  const { capture, truth } = drawn;
  const found = analyze(capture);
  if (!found.ok) return { kind, seed, wrong: found.fault.code, oracleFailed: false, judged: {} };
  const { signalInterval, plateau, lag_s } = found.value.result;
  const { status, low, high } = signalInterval;
  const oracle = oracleAnswer(drawn);
  const judge = (value: number, [from, to]: [number, number], expected: number, oracle?: number): Judged => ({
    error: value - expected,
    width: to - from,
    held: from <= expected && expected <= to,
    ...(oracle !== undefined && { oracleError: oracle - expected }),
  });
  return {
    kind,
    seed,
    ...(status !== truth.status && { wrong: `${status} for ${truth.status}` }),
    oracleFailed: oracle?.status !== truth.status,
    judged: {
      // An end that was not reached has no interval to judge.
      ...(low?.bounded && truth.low !== undefined && { low: judge(low.value, low.ci, truth.low, oracle?.low) }),
      ...(high?.bounded && truth.high !== undefined && { high: judge(high.value, high.ci, truth.high, oracle?.high) }),
      plateau: judge(plateau.value, plateau.ci, truth.plateau, oracle?.plateau),
      lag: judge(lag_s.value, lag_s.ci, truth.lagS),
    },
  };
}
