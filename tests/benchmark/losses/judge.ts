import { analyze } from '../../../shared/analysis/analyze.ts';
import type { AnalysisResult } from '../../../shared/model/results/analysis-result.ts';
import { drawLossSweep, type LossKind, type LossSweep, trueLag } from './kinds.ts';
import { stepS } from './pilot.ts';

export interface LossTask {
  kind: LossKind;
  seed: number;
}

/** How the answer to one sweep compares with what was true; undefined where there is nothing to compare. */
export interface LossVerdict extends LossTask {
  refused?: string;
  setPoint: 'none' | 'provisional' | 'final';
  /** A set point outside the true window, or where the flame drops out. */
  outside: boolean;
  held: { low?: boolean; high?: boolean; plateau?: boolean; lag?: boolean };
  /** A flame that goes out at an end within the signal's: whether that is the cause of the end. */
  cause?: boolean;
  /** Blown off and come back by itself: whether this and nothing else is said, and how far off both pressures are. */
  hysteresis?: boolean;
  lostOff?: number;
  backOff?: number;
  /** As left between the two pressures, and passed. */
  passed?: boolean;
  /** Times below what is required at a good pressure: how many there were, and were listed; how many were listed that were not. */
  excursions: { true: number; found: number; invented: number; lengthOff: number[] };
  /** Seconds of gas without flame, and of gas shut after one, that the phases call so. */
  lostS: { true: number; said: number; falsely: number };
  shutS: { true: number; said: number };
  plateauOff?: number;
  ms: number;
}

/** Draws one sweep, analyzes it and compares. */
export function run({ kind, seed }: LossTask): LossVerdict {
  const sweep = drawLossSweep(kind, seed);
  const began = performance.now();
  const answer = analyze(sweep.capture);
  const ms = performance.now() - began;
  const nothing = {
    excursions: { true: 0, found: 0, invented: 0, lengthOff: [] },
    lostS: { true: 0, said: 0, falsely: 0 },
    shutS: { true: 0, said: 0 },
  };
  if (!answer.ok)
    return { kind, seed, refused: answer.fault.code, setPoint: 'none', outside: false, held: {}, ...nothing, ms };
  const { result } = answer.value;
  const { setPoint } = result;
  return {
    kind,
    seed,
    setPoint: !setPoint ? 'none' : setPoint.provisional ? 'provisional' : 'final',
    outside: setPoint !== undefined && isOutside(sweep, setPoint.value),
    held: heldOf(sweep, result),
    ...endsOf(sweep, result),
    ...(result.asLeft && { passed: result.asLeft.decision === 'pass' }),
    excursions: excursionsOf(sweep, result),
    ...phasesOf(sweep, result),
    plateauOff: result.plateau.value / sweep.plateau - 1,
    ms,
  };
}

function isOutside({ window, flame: { dropOuts } }: LossSweep, value: number): boolean {
  return value < Math.max(window.low, dropOuts?.from ?? 0) || value > window.high;
}

function heldOf(
  { signal, window, plateau, meters, flame, course }: LossSweep,
  result: AnalysisResult,
): LossVerdict['held'] {
  const holds = ({ ci }: { ci: readonly [number, number] }, truth: number) => ci[0] <= truth && ci[1] >= truth;
  const { low, high } = result.window;
  // Turned past the loss and not back: the pressure of the return was never seen.
  const seen = { low: isBackSeen('low', course), high: isBackSeen('high', course) };
  const truth = { low: seen.low ? window.low : signal.low, high: seen.high ? window.high : signal.high };
  return {
    ...(low && low.cause !== 'tested-end' && !flame.dropOuts && { low: holds(low, truth.low) }),
    ...(high && high.cause !== 'tested-end' && { high: holds(high, truth.high) }),
    plateau: holds(result.plateau, plateau),
    lag: holds(result.lag_s, trueLag(meters)),
  };
}

const isBackSeen = (why: 'low' | 'high', { losses }: LossSweep['course']) =>
  losses.some((loss) => loss.why === why && loss.by === 'itself');

function endsOf(sweep: LossSweep, result: AnalysisResult): Partial<LossVerdict> {
  const { flame, course, window, signal, meters } = sweep;
  const side = flame.low ? 'low' : flame.high ? 'high' : undefined;
  const said = result.flameHysteresis ?? [];
  if (!side) {
    if (flame.dropOuts && course.losses.length > 0) {
      const highest = Math.max(...course.losses.map(({ pressure }) => pressure));
      const { low } = result.window;
      const isBy = low !== undefined && (low.cause === 'flame-lost' || low.cause === 'unsteady');
      return { cause: isBy && low.value > highest - 0.05 && low.value < flame.dropOuts.from + 0.1 };
    }
    return { hysteresis: said.length === 0 };
  }
  const own = course.losses.filter(({ why }) => why === side);
  if (own.length === 0) return {};
  const { lost, back } = flame[side]!;
  const isLimit = isBackSeen(side, course) ? window[side] === back || window[side] === lost : signal[side] === lost;
  const cause = isLimit ? { cause: result.window[side]?.cause === 'flame-lost' } : {};
  const gap = Math.abs(back - lost);
  // Within what a turn covers between two readings, a return at the pressure of the loss may be one or none.
  if (gap < 0.08) return cause;
  const expected = own.filter(({ by }) => by === 'itself').length;
  const first = said.find((each) => each.side === side);
  return {
    ...cause,
    hysteresis: said.length === expected && said.every((each) => each.side === side),
    ...(first && expected > 0 && { lostOff: first.lostAt - lost, backOff: first.returnedAt - back }),
    ...(meters.shutter && {}),
  };
}

/** Excursions by definition: the signal without noise below what is required from a loss at a good pressure on. */
function excursionsOf(
  { course, light, required, meters, window, flame }: LossSweep,
  result: AnalysisResult,
): LossVerdict['excursions'] {
  const inside = (p: number) => p > Math.max(window.low, flame.dropOuts?.from ?? 0) + 0.1 && p < window.high - 0.1;
  const spans = course.losses.flatMap(({ atS, pressure, why }) => {
    if (why !== 'draft' || !inside(pressure)) return [];
    let from = Math.round(atS / stepS);
    while (from < light.length && light[from]! >= required) from += 1;
    let to = from;
    while (to < light.length && light[to]! < required) to += 1;
    const isClear = light.slice(from, to).some((level) => level < required - 6 * meters.noise);
    // Three readings show it, and the regulator stayed inside until then.
    const staysInside = course.pressure.slice(Math.round(atS / stepS), to).every(inside);
    return to < light.length && isClear && staysInside && (to - from) * stepS > 3.5 / meters.signalHz
      ? [{ atS: from * stepS, seconds: (to - from) * stepS }]
      : [];
  });
  const said = result.excursions ?? [];
  const matches = spans.map((span) =>
    said.find(({ at_s: atS, seconds }) => atS < span.atS + span.seconds && atS + seconds > span.atS),
  );
  const invented = said.filter(
    ({ at_s: atS, seconds }) => !course.losses.some((loss) => loss.atS < atS + seconds && loss.backS + 6 > atS),
  );
  return {
    true: spans.length,
    found: matches.filter(Boolean).length,
    invented: invented.length,
    lengthOff: matches.flatMap((match, k) => (match ? [match.seconds - spans[k]!.seconds] : [])),
  };
}

/** Seconds, step by step, away from each change by what a detector's lag hides. */
function phasesOf(
  { course, meters }: LossSweep,
  { phases = [] }: AnalysisResult,
): Pick<LossVerdict, 'lostS' | 'shutS'> {
  const lostS = { true: 0, said: 0, falsely: 0 };
  const shutS = { true: 0, said: 0 };
  const margin = Math.round((1 + meters.deadS + meters.lagS) / stepS);
  let k = 0;
  for (let i = margin; i + margin < course.flame.length; i += 1) {
    while (k + 1 < phases.length && phases[k]!.to_s <= i * stepS) k += 1;
    const around = (values: boolean[]) => [values[i - margin]!, values[i]!, values[i + margin]!];
    const [flame, gas] = [around(course.flame), around(course.gas)];
    if (new Set(flame).size > 1 || new Set(gas).size > 1) continue;
    const isSaidLost = phases[k]?.flame === 'lost';
    if (gas[1] && !flame[1]) {
      lostS.true += stepS;
      if (isSaidLost) lostS.said += stepS;
    } else if (isSaidLost) lostS.falsely += stepS;
    if (!gas[1]) {
      shutS.true += stepS;
      if (phases[k]?.gas === 'shut') shutS.said += stepS;
    }
  }
  return { lostS, shutS };
}
