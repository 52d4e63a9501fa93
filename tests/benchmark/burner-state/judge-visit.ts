import { airMoves, confirmedAir, leastFanPressure } from '../../../shared/burner-state/air.ts';
import { type AlarmKind, noAlarm, nextAlarm, type AlarmMemory } from '../../../shared/burner-state/alarms.ts';
import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import { recognizeTrials } from '../../../shared/burner-state/trials/recognize-trials.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { createTracker } from '../../../shared/burner-state/tracker.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import type { Span, StateName } from '../visit/types.ts';
import { drawVisit } from '../visit/visit.ts';
import type { Visit } from '../visit/types.ts';

/** One visit to judge. */
export interface VisitTask {
  kind: string;
  seed: number;
}

export const stateNames = ['gas', 'flame', 'regulator', 'phase'] as const satisfies readonly StateName[];

/** How many seconds were judged, and in how many the word was right. */
export interface Seconds {
  judged: number;
  right: number;
  /** The wrong ones by what was true and what was said. */
  wrong: Record<string, number>;
}

export interface VisitVerdict extends VisitTask {
  hindsight: Record<StateName, Seconds>;
  live: Record<StateName, Seconds>;
  /** For each loss that a detector told the truth could announce: seconds after that moment; Infinity when it was not said. */
  lossDelays: number[];
  /** Alarms of any kind, and whether gas flowed without a flame, or nobody could know that it did not; see `isDanger`. */
  alarms: (RaisedAlarm & { danger: boolean })[];
  /** Hours in which the flame burned. */
  burningHours: number;
  trials: { true: number; found: number; inventedAt: number[]; provedJudged: number; provedWrongAt: number[] };
  ms: number;
}

/** An alarm that was raised, seconds of the capture. */
export interface RaisedAlarm {
  kind: AlarmKind;
  fromS: number;
  toS: number;
}

/** Seconds around a change that are not judged. */
const aroundChangeS = 1;
const everyS = 0.5;

type Words = Record<StateName, string>;

function score(visit: Visit, wordsAt: (s: number) => Words | undefined, isLive: boolean): Record<StateName, Seconds> {
  const { truth } = visit;
  const found = Object.fromEntries(stateNames.map((name) => [name, { judged: 0, right: 0, wrong: {} }])) as Record<
    StateName,
    Seconds
  >;
  const changes = Object.fromEntries(
    stateNames.map((name) => [
      name,
      truth.segments
        .slice(1)
        .flatMap((segment, k) => (segment[name] !== truth.segments[k]![name] ? [segment.from_s] : [])),
    ]),
  ) as Record<StateName, number[]>;
  const first = truth.segments[0]!.from_s;
  const last = truth.segments.at(-1)!.to_s;
  let k = 0;
  for (let s = first + aroundChangeS + everyS / 2; s < last - aroundChangeS; s += everyS) {
    while (truth.segments[k]!.to_s <= s) k += 1;
    const segment = truth.segments[k]!;
    const words = wordsAt(s);
    for (const name of stateNames) {
      if (changes[name].some((at) => Math.abs(at - s) <= aroundChangeS)) continue;
      const said = words?.[name] ?? 'unknown';
      const allowed = truth.eitherWay
        .filter((span) => span.of === name && span.from_s <= s && s < span.to_s && (isLive || !span.live))
        .flatMap((span) => span.words);
      const own = found[name];
      own.judged += everyS;
      if (said === segment[name] || allowed.includes(said)) own.right += everyS;
      else own.wrong[`${segment[name]} as ${said}`] = (own.wrong[`${segment[name]} as ${said}`] ?? 0) + everyS;
    }
  }
  return found;
}

function live(visit: Visit) {
  const { capture, signalUnit } = visit;
  const known = knownFrom(capture.setup, signalUnit);
  const tracker = createTracker(known);
  const readings = capture.readings
    .filter(({ role }) => role === 'pilot_pressure' || role === 'flame_signal' || role === 'fan_pressure')
    .toSorted((a, b) => a.elapsedS - b.elapsedS);
  const words = new Map<number, Words>();
  const alarms: RaisedAlarm[] = [];
  let memory: AlarmMemory = noAlarm;
  let next = 0;
  let air: { shown: boolean; untilS: number } | undefined;
  const confirmedAt = confirmedAir(capture.marks);
  const start = readings[0]?.elapsedS ?? 0;
  const end = readings.at(-1)?.elapsedS ?? 0;
  for (let step = 1; start + step * 0.1 < end + 1; step += 1) {
    const nowS = start + step * 0.1;
    for (; next < readings.length && readings[next]!.elapsedS <= nowS; next += 1) {
      const { role, elapsedS, value, unit } = readings[next]!;
      if (role === 'fan_pressure')
        air = { shown: convertPressure(value, unit as PressureUnit, 'inH2O') > leastFanPressure, untilS: elapsedS + 2 };
      else if (role === 'pilot_pressure')
        tracker.reading(role, elapsedS, convertPressure(value, unit as PressureUnit, 'inH2O'));
      else if (role === 'flame_signal') tracker.reading(role, elapsedS, value);
    }
    const shown = air && air.shown && nowS < air.untilS;
    const now = tracker.advance(nowS, airMoves({ shown, confirmed: confirmedAt(nowS) }));
    if (!now) continue;
    words.set(Math.round(now.atS * 10), { ...now.moment, phase: now.phase });
    const before = memory.alarm;
    memory = nextAlarm(memory, { nowS, now, trialSeconds: known.trialSeconds, valveOpen: undefined });
    const { alarm } = memory;
    if (alarm && !before) alarms.push({ kind: alarm.kind, fromS: nowS, toS: nowS });
    else if (alarm) alarms.at(-1)!.toS = nowS;
  }
  return { words, alarms };
}

/** An alarm may outlast the danger by what readings and lag take, seconds. */
const lateS = 3;

/** Stretches of closing gas, whatever the other states do meanwhile. */
function closings(truth: Visit['truth']): Span[] {
  const found: Span[] = [];
  for (const { gas, from_s, to_s } of truth.segments) {
    if (gas !== 'closing') continue;
    const last = found.at(-1);
    if (last && last.to_s === from_s) last.to_s = to_s;
    else found.push({ from_s, to_s });
  }
  return found;
}

/** Longest time in which gas runs out behind a tight valve, seconds: a line that takes longer feeds an unlit burner meanwhile. */
const runsOutS = 4;

/**
 * Whether shutting the gas was called for, whatever the alarm was named: a flame was lost and gas flowed; gas flowed through a valve that
 * was shut, or ran out for long, or flowed for longer than a trial, and nothing burned; or nothing burned and the manometer could not show
 * that gas was shut.
 */
function isDanger({ truth, capture }: Visit, atS: number): boolean {
  const within = (from: number, to: number | undefined) => atS >= from && atS <= (to ?? Infinity) + lateS;
  if (truth.losses.some(({ at_s, relitAt_s, gasShutAt_s }) => within(at_s, relitAt_s ?? gasShutAt_s))) return true;
  const trialS = capture.setup.pilotTrialSeconds ?? 10;
  const burns = (s: number) =>
    truth.segments.some(
      ({ from_s, to_s, flame }) =>
        from_s <= s && s < to_s && (flame === 'burning' || flame === 'unsteady' || flame === 'lighting'),
    );
  if (truth.trials.some(({ gas_s, lit, shut_s }) => !lit && within(gas_s + trialS, shut_s))) return true;
  if (burns(atS)) return false;
  return (
    closings(truth).some(({ from_s, to_s }) => to_s - from_s > runsOutS && within(from_s, to_s)) ||
    truth.leaks.some(({ from_s, to_s }) => within(from_s, to_s)) ||
    truth.meterFaults.some(
      ({ meter, kind, from_s, to_s }) => meter === 'pilot_pressure' && kind !== 'zero-shift' && within(from_s, to_s),
    )
  );
}

function judgeLosses(visit: Visit, raised: readonly RaisedAlarm[]) {
  const { losses } = visit.truth;
  const lossDelays = losses.flatMap(({ at_s, earliestDetectable_s, gasShutAt_s }) => {
    if (earliestDetectable_s === undefined) return [];
    // An alarm that was on already stays on: it says this loss too.
    const before = losses.some((other) => other.at_s < at_s && (other.gasShutAt_s ?? Infinity) > at_s);
    if (before) return [];
    const until = Math.max(earliestDetectable_s + 1.5, gasShutAt_s ?? Infinity) + 1.5;
    const said = raised.find(({ fromS, toS }) => toS >= at_s && fromS < until);
    return [said === undefined ? Infinity : Math.max(0, said.fromS - earliestDetectable_s)];
  });
  return { lossDelays, alarms: raised.map((alarm) => ({ ...alarm, danger: isDanger(visit, alarm.fromS) })) };
}

function judgeTrials(visit: Visit, tracked: ReturnType<typeof trackCapture>): VisitVerdict['trials'] {
  const { truth, capture } = visit;
  const known = knownFrom(capture.setup, visit.signalUnit);
  const byMinimum = known.minimumSignal !== undefined;
  const provingSignal = known.minimumSignal ?? tracked.levels.dark + 0.5 * tracked.levels.height;
  const found = recognizeTrials(tracked.spans, capture.readings, { provingSignal, trialSeconds: known.trialSeconds });
  const times = capture.readings
    .filter(({ role }) => role === 'flame_signal')
    .map(({ elapsedS }) => elapsedS)
    .sort((a, b) => a - b);
  const pressures = capture.readings
    .filter(({ role }) => role === 'pilot_pressure')
    .map(({ elapsedS }) => elapsedS)
    .sort((a, b) => a - b);
  const typical = (list: number[]) => {
    const steps = list
      .slice(1)
      .map((t, i) => t - list[i]!)
      .sort((a, b) => a - b);
    return steps[steps.length >> 1] ?? 1;
  };
  const interval = typical(times) + typical(pressures);
  const matched = new Set<number>();
  let provedJudged = 0;
  const provedWrongAt: number[] = [];
  for (const trial of truth.trials) {
    const k = found.findIndex((one, i) => !matched.has(i) && Math.abs(one.gasS - trial.gas_s) < 2 + typical(pressures));
    if (k < 0) continue;
    matched.add(k);
    const want = byMinimum ? trial.proved_s : trial.half_s;
    const got = found[k]!;
    if (want === undefined || got.provedS === undefined) continue;
    provedJudged += 1;
    if (Math.abs(got.provedS - got.gasS - (want - trial.gas_s)) > interval + 0.15) provedWrongAt.push(got.gasS);
  }
  return {
    true: truth.trials.length,
    found: matched.size,
    inventedAt: found.filter((_, i) => !matched.has(i)).map(({ gasS }) => gasS),
    provedJudged,
    provedWrongAt,
  };
}

/** Draws a visit, tracks it live and with hindsight, and compares with what was true. */
export function run({ kind, seed }: VisitTask): VisitVerdict {
  const visit = drawVisit(kind, seed);
  const started = performance.now();
  const tracked = trackCapture(visit.capture, visit.capture.setup);
  const ms = performance.now() - started;
  let k = 0;
  const hindsight = score(
    visit,
    (s) => {
      while (k > 0 && tracked.spans[k]!.from_s > s) k -= 1;
      while (k + 1 < tracked.spans.length && tracked.spans[k]!.to_s <= s) k += 1;
      return tracked.spans[k];
    },
    false,
  );
  const { words, alarms } = live(visit);
  const wordsAt = (s: number) => words.get(Math.floor(s * 10)) ?? words.get(Math.floor(s * 10) + 1);
  const burning = visit.truth.segments.filter(({ flame }) => flame === 'burning' || flame === 'unsteady');
  return {
    kind,
    seed,
    hindsight,
    live: score(visit, wordsAt, true),
    ...judgeLosses(visit, alarms),
    burningHours: burning.reduce((sum, { from_s, to_s }) => sum + to_s - from_s, 0) / 3600,
    trials: judgeTrials(visit, tracked),
    ms,
  };
}
