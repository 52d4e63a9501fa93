import { type WarningCode } from '../../../shared/analysis/warnings/warnings.ts';
import type { Capture, Trial } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { frozenBetween } from '../../benchmark/meters/draw.ts';
import { drawLossSweep } from '../../benchmark/losses/kinds.ts';
import { drawSweep, type Kind } from '../../benchmark/sweep/kinds.ts';
import { drawWildSweep } from '../../benchmark/wild/kinds.ts';
import { type Act, goodPilot, record, sweepDownAndUp, turnedFastInTheEnd, twoSweeps } from '../burner-by-hand.ts';
import { downAndUp, sweepWith, twoShoulders } from '../synthetic-sweep.ts';

/** A sweep that should bring a warning, and the setup that it is analyzed with. */
export interface Case {
  capture: Capture;
  setup?: Setup;
}

export const { capture: plain, truth, facts } = drawSweep('two shoulders', 3);
export const middle = (truth.low! + truth.high!) / 2;
const drawn = (kind: Kind, seed = 5): Case => ({ capture: drawSweep(kind, seed).capture });
const withSetup = (setup: Setup): Case => ({ capture: plain, setup });
export const withTrials = (...trials: [pressure: number, lit: boolean, timeToProveS?: number][]): Case => ({
  capture: {
    ...plain,
    trials: trials.map(([pressure, lit, timeToProveS]): Trial => ({
      pressure,
      unit: 'inH2O',
      sparkDelayS: 0,
      lit,
      ...(timeToProveS !== undefined && { timeToProveS }),
    })),
  },
});
/** A trial that was discarded, and then one that lit. */
const discarded = (lit: boolean): Case => {
  const { capture } = withTrials([middle, lit], [middle, true]);
  const [first, second] = capture.trials as [Trial, Trial];
  const taken: Trial = { ...first, status: 'void', corrects: 1, reason: 'hand on the valve' };
  return { capture: { ...capture, trials: [first, taken, second] } };
};
/** A failure that was corrected to lit. */
const corrected = (): Case => {
  const { capture } = withTrials([middle, false], [middle, true]);
  const [first, second] = capture.trials as [Trial, Trial];
  const taken: Trial = { ...first, lit: true, corrects: 1, knownBy: 'corrected', reason: 'wrong button' };
  return { capture: { ...capture, trials: [first, taken, second] } };
};
const lastS = Math.max(...plain.readings.map(({ elapsedS }) => elapsedS));
/** The plain sweep with another signal or pressure in places. */
const changed = (change: (reading: Capture['readings'][number]) => number): Case => ({
  capture: { ...plain, readings: plain.readings.map((reading) => ({ ...reading, value: change(reading) })) },
});
const fan = (value: number, setPointRule: Setup['setPointRule'] = 'equal-pressure') =>
  withSetup({ fanOnlyPressure: { value, unit: 'inH2O' }, setPointRule });

/** A sweep after which 2.4 inH2O is recorded as left while the regulator rests at `pressure`, and the signal is that share of a good one. */
function leftAt(pressure: number, share: number): Case {
  const visit = leftDuring([{ seconds: 10, to: pressure }, { seconds: 40 }], 40);
  const atS = visit.marks[0]!.elapsedS;
  const readings = visit.readings.map((each) =>
    each.role === 'flame_signal' && each.elapsedS > atS - 20 ? { ...each, value: share * each.value } : each,
  );
  return { capture: { ...visit, readings } };
}

/** The sweep and then these acts; 2.4 inH2O is recorded as left so many seconds after the sweep. */
function leftDuring(acts: Act[], leftS: number): Capture {
  const sweptS = sweepDownAndUp.reduce((sum, { seconds }) => sum + seconds, 0);
  const marks = [{ elapsedS: sweptS + leftS, kind: 'as-left' as const, text: '2.4 inH2O' }];
  const setup: Setup = { asLeftPressure: { value: 2.4, unit: 'inH2O' } };
  return record({ ...goodPilot, marks, setup }, [...sweepDownAndUp, ...acts]);
}

/** A visit that ends with the valve shut; the pressure then stands so much above that of the fan alone, inH2O. */
export function shutInTheEnd(above: number): Capture {
  const setup: Setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' } };
  const shutS = sweepDownAndUp.reduce((sum, { seconds }) => sum + seconds, 0);
  const capture = record({ ...goodPilot, fanOnly: 0.2, setup }, [...sweepDownAndUp, { seconds: 25, valve: 'shut' }]);
  const readings = capture.readings.map((each) =>
    each.role === 'pilot_pressure' && each.elapsedS > shutS - 20 ? { ...each, value: each.value + above } : each,
  );
  return { ...capture, readings };
}

/** A visit that begins and ends with the valve shut; from ten seconds into its sweep on the manometer shows so much more, inH2O. */
export function shiftedInTheSweep(by: number, fanOnly = 0.3): Capture {
  const acts: Act[] = [
    { seconds: 20, valve: 'shut' },
    { seconds: 0.5, valve: 'open' },
    { seconds: 3, spark: true },
    { seconds: 8 },
    ...sweepDownAndUp,
    { seconds: 25, valve: 'shut' },
  ];
  const capture = record({ ...goodPilot, fanOnly }, acts);
  const readings = capture.readings.map((each) =>
    each.role === 'pilot_pressure' && each.elapsedS > 41.5 ? { ...each, value: each.value + by } : each,
  );
  return { ...capture, readings };
}

/**
 * A sweep, and then at 2.4 inH2O three trials with the spark at once and one delayed by 5 s, a minute of shut gas before each; all are
 * written down as lit. The flame lights as they say, goes out again after a second, or never lights.
 */
export function triedAfterwards(flame: 'lights' | 'goes-out' | 'dark'): Capture {
  const setup: Setup = { asLeftPressure: { value: 2.4, unit: 'inH2O' }, pilotTrialSeconds: 10 };
  const spark = flame === 'dark' ? {} : ({ spark: true } as const);
  const goesOut = flame === 'goes-out' ? ({ flame: 'out' } as const) : {};
  const delays = [0, 0, 0, 5];
  const trialActs = delays.flatMap((delay): Act[] => [
    { seconds: 60, valve: 'shut' },
    { seconds: delay + 1, valve: 'open' },
    { seconds: 1, ...spark },
    { seconds: 8 - delay, ...goesOut },
  ]);
  const acts: Act[] = [...sweepDownAndUp, { seconds: 10, to: 2.4 }, { seconds: 10 }, ...trialActs];
  const sweptS = sweepDownAndUp.reduce((sum, { seconds }) => sum + seconds, 20);
  const trials = delays.map((sparkDelayS, k): Trial => ({
    pressure: 2.4,
    unit: 'inH2O',
    sparkDelayS,
    lit: true,
    timeToProveS: sparkDelayS + 2,
    elapsedS: sweptS + 60 + 70 * k,
  }));
  return record({ ...goodPilot, setup, trials }, acts);
}

// Invented sweeps with one thing wrong each. A missing code does not compile.
export const cases: Record<WarningCode, () => Case> = {
  // Turned down fast at the end of the recording, without a fan-only pressure: a lost flame or a shut valve.
  'gas-unknown': () => ({ capture: record(goodPilot, turnedFastInTheEnd) }),
  // A fifth of a volt somewhere under noise of two.
  'plateau-unknown': () => {
    const random = createRandom(4);
    return { capture: sweepWith((p) => twoShoulders(p) / 23 + 2 * random.normal(), { stepS: 1 }) };
  },
  'sweeps-contradict': () => ({ capture: twoSweeps(3.2) }),
  'low-end-not-reached': () => drawn('high end only'),
  'high-end-not-reached': () => drawn('low end only'),
  // The last ten readings a year later.
  'hours-apart': () => ({
    capture: {
      ...plain,
      readings: plain.readings.map((reading, i, all) =>
        i < all.length - 10 ? reading : { ...reading, elapsedS: reading.elapsedS + 365 * 86_400 },
      ),
    },
  }),
  // The manometer's zero shifts during the sweep.
  'gas-not-shut-off': () => ({ capture: shutInTheEnd(0.12) }),
  'light-off-not-shown': () => ({ capture: triedAfterwards('dark') }),
  'zero-shifted': () => ({ capture: shiftedInTheSweep(-0.12) }),
  'no-window': () => withSetup({ makerPressureRange: { low: 0.1, high: truth.low! - 0.2, unit: 'inH2O' } }),
  // Written down in the first seconds of a sweep that begins elsewhere.
  'light-off-elsewhere': () => ({
    capture: { ...plain, trials: [{ pressure: 9, unit: 'inH2O', sparkDelayS: 0, lit: true, elapsedS: 5 }] },
  }),
  'light-off-sets-end': () => withTrials([middle, true], [truth.high! + 0.5, false]),
  'lit-at-one-pressure': () => withTrials([middle, true], [truth.low!, false], [truth.high!, false]),
  'signal-below-required': () => withSetup({ minimumSignal: { value: 9, unit: 'V' } }),
  'signal-not-positive': () => ({ capture: sweepWith(() => 0) }),
  // A third of the plateau missing within a quarter of an inch about 2.5 inH2O.
  'signal-dips': () => ({
    capture: sweepWith((p) => twoShoulders(p) * (1 - 0.33 * Math.exp(-(((p - 2.5) / 0.15) ** 2))), { stepS: 0.2 }),
  }),
  'no-flame-response': () => drawn('neither end'),
  'set-point-provisional': () => drawn('low end only'),
  // Three in ten of the reading: the high end is guarded by over an inch, the low one by less than half of one.
  'set-point-off-center': () => withSetup({ pressureAccuracy: { percentOfReading: 30, absolute: 0, unit: 'inH2O' } }),
  'fan-only-above-low-end': () => fan(truth.low! + 0.2),
  'set-point-below-zero': () => changed(({ role, value }) => (role === 'pilot_pressure' ? value - truth.high! : value)),
  // Gas shut for 20 s at 0.2 inH2O after the sweep; 1.2 was entered.
  'fan-only-not-as-read': () => {
    const isShut = (t: number) => t >= 200;
    const shut = sweepWith((p, t) => (isShut(t) ? 0 : twoShoulders(p)), {
      pressureAt: (t) => (isShut(t) ? 0.2 : downAndUp(t)),
      lastS: 220,
    });
    return { capture: shut, setup: { fanOnlyPressure: { value: 1.2, unit: 'inH2O' } } };
  },
  'fan-only-above-window': () => fan(truth.high! + 1, 'equal-flow'),
  'fan-only-above-set-point': () => fan(truth.high! + 0.1),
  'ratio-of-gauge-pressures': () => fan(0.2, 'equal-ratio'),
  'fan-only-unknown': () => withSetup({ setPointRule: 'equal-flow' }),
  'maker-range-costs': () => withSetup({ makerPressureRange: { low: 1.2, high: 1.9, unit: 'inH2O' } }),
  'outside-tested': () => ({
    ...drawn('low end only'),
    setup: { makerPressureRange: { low: 1.2, high: 9, unit: 'inH2O' } },
  }),
  // The plan is met: three plain trials at as-left and one with the spark delayed by half of the trial.
  'few-light-offs': () => {
    const { capture } = withTrials([middle, true], [middle, true], [middle, true]);
    const delayed: Trial = { pressure: middle, unit: 'inH2O', sparkDelayS: 5, lit: true };
    return {
      capture: { ...capture, trials: [...capture.trials, delayed] },
      setup: { asLeftPressure: { value: middle, unit: 'inH2O' } },
    };
  },
  'light-off-not-proved': () => ({
    ...withTrials([middle, true]),
    setup: { asLeftPressure: { value: middle, unit: 'inH2O' } },
  }),
  'no-light-offs': () => ({ capture: plain }),
  'light-off-contradicts': () => withTrials([middle - 0.5, true], [middle, false], [middle + 0.5, true]),
  'light-off-unclear': () => withTrials([middle, true], [middle, false]),
  'light-off-delay-limit': () => {
    const { capture } = withTrials([middle, true], [middle + 0.5, true], [middle + 0.5, false]);
    return {
      capture: { ...capture, trials: capture.trials.map((each) => (each.lit ? each : { ...each, sparkDelayS: 3 })) },
    };
  },
  'light-off-failed-in-good-signal': () => withTrials([middle, true], [truth.high! - 0.4, false]),
  'light-off-in-bad-signal': () => withTrials([middle, true], [truth.high! + 0.4, true]),
  // The pilot trial lasts 10 s unless the setup says otherwise (common practice).
  'light-off-late': () => withTrials([middle, true, 11]),
  'light-offs-at-once': () => {
    const { capture } = withTrials([middle, true], [middle, true]);
    return { capture: { ...capture, trials: capture.trials.map((trial) => ({ ...trial, elapsedS: 12.5 })) } };
  },
  'light-off-spark-too-late': () => {
    const { capture } = withTrials([middle, true]);
    return { capture: { ...capture, trials: [...capture.trials, { ...capture.trials[0]!, sparkDelayS: 10 }] } };
  },
  'light-off-before-spark': () => {
    const { capture } = withTrials([middle, true]);
    const before: Trial = { pressure: middle, unit: 'inH2O', sparkDelayS: 5, timeToProveS: 3, lit: true };
    return { capture: { ...capture, trials: [...capture.trials, before] } };
  },
  'light-off-purge-short': () => {
    const { capture } = withTrials([middle, true], [middle, true], [middle, true]);
    const told = [{ purgeS: 0 }, { purgeS: 3.6 }, { purgeS: 60 }];
    return {
      capture: {
        ...capture,
        trials: capture.trials.map((each, i) => ({ ...each, elapsedS: 10 + 80 * i, ...told[i] })),
      },
    };
  },
  // Dark for 4 s on the long way up, in the middle of the good pressures.
  'flame-lost-in-good-signal': () => {
    const outS = plain.readings.find(
      (r) => r.role === 'pilot_pressure' && r.elapsedS > 0.45 * lastS && r.value > middle,
    )!.elapsedS;
    return changed(({ role, elapsedS, value }) =>
      role === 'flame_signal' && elapsedS > outS && elapsedS < outS + 4 ? facts.curve.dark : value,
    );
  },
  'signal-fell': () => {
    const fellS = plain.readings.find(
      (r) => r.role === 'pilot_pressure' && r.elapsedS > 0.45 * lastS && r.value > middle,
    )!.elapsedS;
    return changed(({ role, elapsedS, value }) =>
      role === 'flame_signal' && elapsedS > fellS && elapsedS < fellS + 3 ? 0.7 * value : value,
    );
  },
  // Lost at 1.5 and back at 1.8 inH2O with three tenths of its signal.
  'signal-stayed-low': () => ({
    capture: record({ ...goodPilot, lostBelow: 1.5, backAbove: 1.8, backBelow: 9, backShare: 0.3 }, [
      { seconds: 20 },
      { seconds: 40, to: 1.4 },
      { seconds: 80, to: 4.35 },
      { seconds: 60, to: 2.4 },
    ]),
  }),
  // Every fifth reading dark, one at a time: each is a spike by itself.
  'signal-scatters': () => {
    let count = 0;
    return changed(({ role, value }) => (role === 'flame_signal' && (count += 1) % 5 === 0 ? facts.curve.dark : value));
  },
  'flame-drops-out': () => ({ capture: drawLossSweep('drops out at the lean end', 4).capture }),
  'never-lit': () => withTrials([middle, false], [middle + 0.5, false]),
  'doubt-exceeds-window': () => withSetup({ pressureAccuracy: { percentOfReading: 100, absolute: 5, unit: 'inH2O' } }),
  'clipped-plateau': () => drawn('clipped'),
  'signal-overload': () => ({ capture: drawWildSweep('overload at half', 3).capture }),
  'signal-below-range': () => ({ capture: drawWildSweep('a meter that shows nothing below half', 7).capture }),
  'spark-like-flame': () => withSetup({ sparkOnlySignal: { value: 9, unit: 'V' } }),
  'self-check': () => drawn('self-check'),
  'lag-unknown': () => drawn('neither end'),
  // The manometer is damped by more than the flame signal meter: its readings come half a second after the signal's.
  'signal-before-pressure': () => {
    const sweep = sweepWith(twoShoulders);
    const readings = sweep.readings.map((each) =>
      each.role === 'pilot_pressure' ? { ...each, elapsedS: each.elapsedS + 0.5 } : each,
    );
    return { capture: { ...sweep, readings } };
  },
  'one-direction': () => drawn('up only'),
  // A plateau on two levels follows no shape of curve.
  'fit-poor': () => ({ capture: sweepWith((p) => twoShoulders(p) * (p > 2.5 ? 0.65 : 1)) }),
  'signal-drifts': () =>
    changed(({ role, elapsedS, value }) =>
      role === 'flame_signal' && value > 1 ? value + (0.4 * elapsedS) / lastS : value,
    ),
  'minimum-signal-unit': () => withSetup({ minimumSignal: { value: 3, unit: 'uA' } }),
  'meter-fell-silent': () => ({
    capture: { ...plain, readings: plain.readings.filter((r) => r.role !== 'flame_signal' || r.elapsedS < 40) },
  }),
  // A fifth less from 2.5 inH2O on.
  'two-plateaus': () => ({ capture: sweepWith((p) => twoShoulders(p) * (p > 2.5 ? 0.8 : 1)) }),
  // The display is held from a third to a half of the sweep.
  'meter-frozen': () => ({
    capture: { ...plain, readings: frozenBetween(plain.readings, 'pilot_pressure', lastS / 3, lastS / 2) },
  }),
  // The flame blew out, and the regulator was left there with gas on.
  'as-left-unseen': () => ({
    capture: leftDuring(
      [{ seconds: 10, to: 2.4 }, { seconds: 5 }, { seconds: 40, flame: 'out' }, { seconds: 20, valve: 'shut' }],
      40,
    ),
  }),
  // The regulator crept, and nobody looked again before the entry.
  'as-left-elsewhere': () => leftAt(2, 1),
  // It was turned on for a last trial, and nobody turned it back.
  'as-left-turned-since': () => ({
    capture: leftDuring(
      [
        { seconds: 10, to: 2.4 },
        { seconds: 20 },
        { seconds: 10, to: 3 },
        { seconds: 20 },
        { seconds: 20, valve: 'shut' },
      ],
      25,
    ),
  }),
  // Something came before the detector while the regulator rested.
  'as-left-weak': () => leftAt(2.4, 0.6),
  // The hose falls off the manometer, and the flame burns on.
  'manometer-off': () => ({
    capture: sweepWith((_, t) => twoShoulders(downAndUp(Math.min(t, 150))) + 0.02 * Math.sin(7 * t), {
      pressureAt: (t) => (t < 150 ? downAndUp(t) : 0),
    }),
  }),
  'unlit-trial-discarded': () => discarded(false),
  'trial-discarded': () => discarded(true),
  'unlit-trial-corrected': corrected,
  'sweep-discarded': () => ({
    capture: {
      ...plain,
      marks: [
        { elapsedS: 0, kind: 'sweep-start', text: '' },
        { elapsedS: lastS + 1, kind: 'sweep-end', text: '' },
        { elapsedS: lastS + 2, kind: 'sweep-start', text: '' },
        { elapsedS: lastS + 9, kind: 'sweep-void', text: 'the probe fell off' },
      ],
    },
  }),
  // The valve shuts at 60 s for 15 s: pressure and signal fall to nothing at once.
  'gas-shut': () => {
    const isShut = (t: number) => t >= 60 && t < 75;
    return {
      capture: sweepWith((p, t) => (isShut(t) ? 0 : twoShoulders(p)), {
        pressureAt: (t) => (isShut(t) ? 0 : downAndUp(t)),
      }),
    };
  },
};
