import { analyze } from '../../../../shared/analysis/analyze.ts';
import type { AnalysisResult } from '../../../../shared/model/results/analysis-result.ts';
import type { Reading } from '../../../../shared/model/reading.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import type { MeterRole } from '../../sweep/simulate.ts';
import type { SweepTruth } from '../../sweep/truth.ts';
import { drawsOf, fileOf, frozenBetween, plainFacts, sweepOf, withClock, withValues } from '../draw.ts';
import type { CaseVerdict, MeterKind } from '../kind.ts';

/** Judges the answer to a file; one that is refused is described by its code. */
function answerTo(
  readings: readonly Reading[],
  setup: Setup,
  judge: (result: AnalysisResult) => CaseVerdict,
  refused = false,
): CaseVerdict {
  const outcome = analyze(fileOf(readings, setup));
  return outcome.ok ? judge(outcome.value.result) : { good: refused, found: outcome.fault.code };
}

/** A meter that repeats one value from some moment on, for a while or to the end, while the regulator is turned. */
const frozen = (role: MeterRole, salt: number) => (seed: number) => {
  const draws = drawsOf(seed, salt);
  const { readings, durationS } = sweepOf(plainFacts(draws), draws);
  const fromS = draws.between(0.1, 0.75) * durationS;
  const toS = draws.oneOf([Infinity, fromS + draws.between(15, 60)]);
  return answerTo(
    frozenBetween(readings, role, fromS, toS),
    {},
    ({ warnings }) => {
      const codes = warnings.map(({ code }) => code);
      return { good: codes.includes('meter-frozen'), found: codes.join(' ') };
    },
    true,
  );
};

/** Gas never lit, or no gas: the signal stays dark, with the offset of a warm or lit detector and its noise. */
function noFlame(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 12);
  const { readings } = sweepOf(plainFacts(draws), draws);
  const [level, noise, digit] = [draws.between(0, 0.3), draws.between(0.001, 0.03), draws.oneOf([0.001, 0.01])];
  const dark = withValues(readings, 'flame_signal', () =>
    Math.max(0, Math.round((level + noise * draws.random.normal()) / digit) * digit),
  );
  return answerTo(
    dark,
    {},
    ({ setPoint, signalInterval }) => ({
      good: setPoint === undefined,
      found: setPoint ? `set point, ${signalInterval.status}${setPoint.provisional ? ', provisional' : ''}` : '',
    }),
    true,
  );
}

/** Clocks that were set apart: the flame signal seems to follow after more than 5 s, or to come before the pressure. */
function clocksApart(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 13);
  const facts = plainFacts(draws);
  const { readings } = sweepOf(facts, draws);
  const lagS = facts.deadS + facts.lagS - facts.manometerLagS;
  const apparentS = draws.oneOf([draws.between(-12, -1.5), draws.between(6, 25)]);
  return answerTo(
    withClock(readings, 'flame_signal', apparentS - lagS),
    {},
    ({ lag_s, warnings }) => ({
      good: false,
      found: `${apparentS.toFixed(1)} s: lag ${lag_s.value.toFixed(1)} ${warnings.map(({ code }) => code).join(' ')}`,
    }),
    true,
  );
}

/** Readings typed by hand: both meters read every few seconds, to the whole second, digits as a person types them. */
function typed(seed: number, salt: number) {
  const draws = drawsOf(seed, salt);
  const facts = { ...plainFacts(draws), manometerHz: 10, signalHz: 10, speed: draws.between(0.015, 0.04) };
  const { readings, durationS, truth } = sweepOf(facts, draws);
  const lastOf = (role: MeterRole, t: number) =>
    readings.findLast((reading) => reading.role === role && reading.elapsedS <= t);
  const [digitP, digitS] = [draws.oneOf([0.01, 0.02, 0.05]), draws.oneOf([0.01, 0.05])];
  const rows: Reading[] = [];
  for (let t = 1; t < durationS; t += Math.round(draws.between(2, 6))) {
    // One meter is read after the other, and the second is that of either.
    const pressure = lastOf('pilot_pressure', t + draws.between(-0.5, 0.5));
    const signal = lastOf('flame_signal', t + draws.between(-0.5, 0.5));
    if (!pressure || !signal) continue;
    for (const [reading, digit] of [
      [pressure, digitP],
      [signal, digitS],
    ] as const) {
      const value = Math.round(reading.value / digit) * digit;
      rows.push({ ...reading, elapsedS: t, value, raw: String(value) });
    }
  }
  return { rows, truth };
}

/** Whether both ends of the signal interval hold the truth. */
const endsHeld = ({ signalInterval: { low, high } }: AnalysisResult, truth: SweepTruth): [boolean, boolean] => {
  const held = (end: typeof low, value: number | undefined) =>
    end !== undefined && value !== undefined && end.ci[0] <= value && value <= end.ci[1];
  return [held(low, truth.low), held(high, truth.high)];
};

const typedEnd = (side: 0 | 1) => (seed: number) => {
  const { rows, truth } = typed(seed, 14);
  return answerTo(rows, {}, (result) => {
    const { low, high } = result.signalInterval;
    const end = side === 0 ? low : high;
    const value = side === 0 ? truth.low! : truth.high!;
    return {
      good: endsHeld(result, truth)[side],
      found: end ? `${value.toFixed(3)} in ${end.ci.map((x) => x.toFixed(3)).join(' to ')}` : 'no end',
    };
  });
};

/** A microammeter of one digit: steps of 1 or 0.1 microampere. */
function coarseMicroamps(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 15);
  const { readings } = sweepOf(plainFacts(draws), draws);
  const digit = draws.oneOf([1, 1, 0.5, 0.1]);
  const share = draws.between(0.3, 1.5);
  const coarse = readings.map((reading): Reading =>
    reading.role === 'flame_signal'
      ? { ...reading, unit: 'uA', value: Math.round((reading.value * share) / digit) * digit }
      : reading,
  );
  return answerTo(coarse, {}, (result) => {
    const nulls = nullsIn(JSON.parse(JSON.stringify(result)));
    return { good: nulls.length === 0, found: nulls.join(' ') };
  });
}

/** Places of every null in a result as other programs read it. */
function nullsIn(value: unknown, path = ''): string[] {
  if (value === null) return [path];
  if (typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => nullsIn(inner, path ? `${path}.${key}` : key));
}

export const meterKinds: MeterKind[] = [
  { name: 'frozen manometer', wanted: 'warned of, or refused', least: 0.95, judge: frozen('pilot_pressure', 10) },
  { name: 'frozen signal meter', wanted: 'warned of, or refused', least: 0.95, judge: frozen('flame_signal', 11) },
  { name: 'no flame in the file', wanted: 'no set point', least: 1, judge: noFlame },
  { name: 'clocks of the meters apart', wanted: 'refused', least: 0.95, judge: clocksApart },
  { name: 'typed by hand: low end', wanted: 'held', least: 0.9, judge: typedEnd(0) },
  { name: 'typed by hand: high end', wanted: 'held', least: 0.9, judge: typedEnd(1) },
  { name: 'microamps of one digit', wanted: 'no null in the result', least: 1, judge: coarseMicroamps },
];
