import type { StateSpan } from '../burner-state/track.ts';
import type { Capture } from '../model/capture.ts';
import type { Reading } from '../model/reading.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../model/units.ts';
import { median } from '../numerics/descriptive.ts';
import { burns, isUnseen } from './sweep/flame/gas-off.ts';

/** What speaks against the pressure as left in what the meters showed, with hindsight, when it was recorded and later. */
export type AsLeftDoubt = { atS: number } & (
  | {
      /** `out`: no flame burned. `unseen`: a meter was silent or repeated itself. */
      what: 'out' | 'unseen';
    }
  | {
      /**
       * `elsewhere`: the manometer showed another pressure. `weak`: the flame signal was below what is required. `turned-since`: the flame
       * last burned at rest at another pressure, later, at `atS`.
       */
      what: 'elsewhere' | 'weak' | 'turned-since';
      /** Median of the last readings, in the unit of the sweep. */
      shown: number;
    }
);

/** The state so long before the entry still speaks for it, seconds: gas is often shut at once. */
const recentS = 2;
/** So do readings of the manometer, and of the signal, which flickers, seconds; fewer readings than this say nothing. */
const recentPressureS = 3;
const recentSignalS = 5;
const fewest = 3;
/** A flame that burns at rest for so long burns where the regulator was left, seconds. */
const leftForS = 5;

/**
 * What speaks against the pressure as left when it was last recorded, and since; empty where nothing does, where it was not recorded with a mark, and
 * where nobody can tell.
 *
 * @param spans      what the burner did, in the capture's seconds
 * @param asLeft     pressure as left, in the unit of the sweep
 * @param tolerance  by how much the manometer may differ from it: within this a trial counts as made there
 * @param required   signal that is required, in the unit of the sweep
 */
export function asLeftDoubts(
  { readings, marks }: Pick<Capture, 'readings' | 'marks'>,
  spans: readonly StateSpan[],
  { pressureUnit, signalUnit }: { pressureUnit: PressureUnit; signalUnit: SignalUnit },
  { asLeft, tolerance, required }: { asLeft: number | undefined; tolerance: number; required: number },
): AsLeftDoubt[] {
  const atS = marks.findLast(({ kind }) => kind === 'as-left')?.elapsedS;
  if (atS === undefined) return [];
  const noFlame = noFlameAt(atS, spans);
  if (noFlame) return [{ atS, what: noFlame }];
  if (asLeft === undefined) return [];
  const pressureBefore = (untilS: number) =>
    medianBefore(untilS, recentPressureS, readings, 'pilot_pressure', ({ value, unit }) =>
      convertPressure(value, unit as PressureUnit, pressureUnit),
    );
  const isElsewhere = (shown: number | undefined): shown is number =>
    shown !== undefined && Math.abs(shown - asLeft) > tolerance;
  const pressure = pressureBefore(atS);
  const signal = medianBefore(atS, recentSignalS, readings, 'flame_signal', ({ value, unit }) =>
    convertSignal(value, unit as SignalUnit, signalUnit),
  );
  const doubts: AsLeftDoubt[] = [];
  if (isElsewhere(pressure)) doubts.push({ atS, what: 'elsewhere', shown: pressure });
  if (signal !== undefined && signal < required) doubts.push({ atS, what: 'weak', shown: signal });
  const restedS = lastAtRest(atS, spans);
  if (restedS === undefined || isElsewhere(pressure)) return doubts;
  const last = pressureBefore(restedS);
  if (isElsewhere(last)) doubts.push({ atS: restedS, what: 'turned-since', shown: last });
  return doubts;
}

/** Why no flame was seen to burn just then; undefined where one was, and where nobody can tell. */
function noFlameAt(atS: number, spans: readonly StateSpan[]): 'out' | 'unseen' | undefined {
  const recent = spans.filter(({ from_s, to_s }) => to_s > atS - recentS && from_s <= atS);
  if (recent.length === 0 || recent.some((span) => burns(span) && span.gas !== 'unknown')) return undefined;
  if (recent.some((span) => isUnseen(span, 'gas') || isUnseen(span, 'flame'))) return 'unseen';
  return recent.every(({ flame }) => flame === 'unknown') ? undefined : 'out';
}

/** Until when a flame last burned at rest for some seconds, all of them after `atS`; undefined where none did. */
function lastAtRest(atS: number, spans: readonly StateSpan[]): number | undefined {
  let untilS: number | undefined;
  let fromS = Infinity;
  for (const span of spans) {
    if (span.to_s <= atS) continue;
    const rests =
      burns(span) && span.gas === 'flowing' && (span.regulator === 'at-rest' || span.regulator === 'settling');
    fromS = rests ? Math.min(fromS, Math.max(span.from_s, atS)) : Infinity;
    if (span.to_s - fromS >= leftForS) untilS = span.to_s;
  }
  return untilS;
}

/** Median of a meter's readings with a number in the last seconds before a moment; undefined where there are too few. */
function medianBefore(
  atS: number,
  seconds: number,
  readings: readonly Reading[],
  role: Reading['role'],
  inUnit: (reading: Reading) => number | undefined,
): number | undefined {
  const values = readings
    .filter((each) => each.role === role && each.elapsedS > atS - seconds && each.elapsedS <= atS)
    .map(inUnit)
    .filter((value): value is number => value !== undefined && Number.isFinite(value));
  return values.length < fewest ? undefined : median(Float64Array.from(values));
}
