import { describe, expect, it } from 'vitest';
import { held } from '../held-pilot.ts';
import type { BurnerView, CaptureView } from '../../../shared/contract/api.ts';
import type { MarkKind } from '../../../shared/model/capture.ts';
import { doneSteps, nextStep, type VisitProgress } from '../../../renderer/state/visit-steps.ts';
import type { Decision, IntervalStatus } from '../../../shared/model/results/analysis-result.ts';
import { isSweeping } from '../../../shared/model/sweeps.ts';
import { openEnds } from '../../../shared/model/trials/unjudged-trials.ts';
import { latestReading } from '../../../renderer/state/live/latest-readings.ts';

const capture = (kinds: MarkKind[], more: Partial<CaptureView> = {}): CaptureView => ({
  id: 'c',
  startedAt: '2026-03-10T09:00:00Z',
  status: 'recording',
  lines: 0,
  readings: 0,
  trials: [],
  durationS: 60,
  units: {},
  setup: {},
  meters: [],
  marks: kinds.map((kind, elapsedS) => ({ elapsedS, kind, text: '' })),
  notes: [],
  ...more,
});
/** A full purge was seen, before the first gas. */
const seen = { ...held.purge, purgedS: 60 };
/** An analysis that found both ends and a set point; `decision` on as-left. */
const found = (decision?: Decision, status: IntervalStatus = 'bounded') => ({
  result: {
    window: { status },
    setPoint: {
      value: 2.5,
      rule: 'equal-pressure' as const,
      provisional: false,
      marginLow: 1,
      marginHigh: 1,
      withinMakerRange: true,
    },
    ...(decision && { asLeft: { value: 2.5, marginLow: 1, marginHigh: 1, decision } }),
  },
});
const ready = {
  burnerNamed: true,
  pressureLive: true,
  signalLive: true,
  analysis: found(),
  isCalculating: false,
  burner: held,
};
const trial = { id: 1, pressure: 2, unit: 'inH2O' as const, sparkDelayS: 0, lit: true };

describe('the next thing to do', () => {
  it('is to enter how a trial ended that only the technician saw, once gas is shut and purged', () => {
    const marks: CaptureView['marks'] = [
      { elapsedS: 1, kind: 'trial-start', text: 'gas on' },
      { elapsedS: 9, kind: 'trial-end', text: openEnds.noResult },
    ];
    const shut = { ...held, gas: 'shut' as const, flame: 'dark' as const, purge: seen };
    const label = (more: Partial<CaptureView>, burner: BurnerView = shut) =>
      nextStep({ ...ready, burner, capture: capture([], { marks, ...more }) })?.label;
    expect(label({})).toBe('Enter how the last trial ended');
    expect(label({ trials: [{ ...trial, elapsedS: 1 }] })).not.toBe('Enter how the last trial ended');
    expect(label({}, held)).not.toBe('Enter how the last trial ended');
  });
  it.each([
    ['meters', { ...ready, signalLive: false, capture: undefined }, 'Connect the flame signal meter'],
    ['burner', { ...ready, burnerNamed: false, capture: undefined }, 'Enter the burner’s name'],
    ['sweep', { ...ready, capture: undefined }, 'Start recording'],
    ['sweep', { ...ready, capture: capture([]) }, 'Record as-found before turning anything'],
    ['sweep', { ...ready, capture: capture(['as-found']) }, 'Begin the sweep'],
    ['light-off', { ...ready, capture: capture(['sweep-start', 'sweep-end']) }, 'Make light-off trials near both ends'],
    [
      'light-off',
      { ...ready, capture: capture(['as-found', 'sweep-start', 'sweep-end']) },
      'Make light-off trials near both ends',
    ],
  ] as const)('is at %s', (place, facts, label) => expect(nextStep(facts)).toEqual({ place, label }));

  it('is as-found only until the regulator was first turned, with or without a trial before', () => {
    const label = (more: Partial<CaptureView>) => nextStep({ ...ready, capture: capture([], more) })?.label;
    expect(label({ trials: [trial] })).toBe('Record as-found before turning anything');
    // With the valve shut the manometer shows the fan.
    const shut = { ...held, gas: 'shut' as const, flame: 'dark' as const };
    expect(nextStep({ ...ready, burner: { ...shut, purge: seen }, capture: capture([]) })?.label).toBe(
      'Light the pilot, then record as-found',
    );
    // Nobody saw a purge.
    expect(nextStep({ ...ready, burner: shut, capture: capture([]) })?.label).toBe('Purge, then light the pilot');
    expect(label({ regulatorTurned: true })).toBe('As-found was not taken. Begin the sweep');
  });

  it('is to check a meter that is frozen or sends no number, while sweeping and while setting', () => {
    const frozen = { ...held, gas: 'unknown' as const, pressureTrouble: { kind: 'frozen' as const, forS: 9 } };
    for (const kinds of [
      ['as-found', 'sweep-start'],
      ['as-found', 'sweep-start', 'sweep-end'],
    ] as MarkKind[][])
      expect(nextStep({ ...ready, burner: frozen, capture: capture(kinds, { trials: [trial] }) })).toEqual({
        place: 'meters',
        label: 'Check the manometer. Do not turn',
      });
    const dead = { ...held, flame: 'unknown' as const, signalTrouble: { kind: 'no-number' as const, forS: 9 } };
    expect(nextStep({ ...ready, burner: dead, capture: capture(['as-found']) })?.label).toBe(
      'Check the flame signal meter. Do not turn',
    );
  });

  it('is to watch a trial while gas flows, and not once it is shut and the trial only waits for its entry', () => {
    const running = { startedS: 50, gasS: 50, knownBy: 'meters' as const };
    const label = (more: object, burner: BurnerView = held) =>
      nextStep({
        ...ready,
        burner,
        capture: capture(['sweep-start', 'sweep-end'], { runningTrial: { ...running, ...more } }),
      })?.label;
    expect(label({})).toBe('Watch the light-off trial');
    expect(label({ over: 'proved' })).toBe('Watch the light-off trial');
    for (const gas of ['shut', 'closing'] as const)
      expect(label({ over: 'time-over' }, { ...held, gas, flame: 'dark' })).toBe('Trial over: it is being recorded');
    expect(label({ over: 'gas-shut' })).toBe('Trial over: it is being recorded');
    expect(label({ over: 'gas-shut', undecided: 'manometer-failed' })).toBe('Enter whether the pilot lit');
  });
  it('is to shut gas that is on unlit, or after a trial that did not light, before anything else', () => {
    const visit = (trials: CaptureView['trials']) => capture(['as-found', 'sweep-start', 'sweep-end'], { trials });
    const label = (trials: CaptureView['trials'], more: Partial<BurnerView>) =>
      nextStep({ ...ready, burner: { ...held, ...more }, capture: visit(trials) })?.label;
    const failed = { ...trial, lit: false };
    expect(label([failed], { flame: 'dark' })).toBe('Shut the gas now, then purge');
    expect(label([failed], {})).toBe('Shut the gas now, then purge');
    expect(label([trial], { flame: 'dark' })).toBe('Shut the gas now, then purge');
    expect(label([failed], { flame: 'dark', trialGas: true })).toBe('Watch the light-off trial');
    expect(label([trial], {})).not.toContain('Shut');
    expect(label([failed], { gas: 'shut', flame: 'dark' })).not.toContain('Shut');
  });
  it('is to sweep again where the sweep was discarded, and to try again where the trial was', () => {
    const discarded: MarkKind[] = ['as-found', 'sweep-start', 'sweep-end', 'sweep-void'];
    expect(nextStep({ ...ready, capture: capture(discarded) })).toEqual({ place: 'sweep', label: 'Begin the sweep' });
    expect(doneSteps({ ...ready, capture: capture(discarded) }).has('sweep')).toBe(false);
    // A complete visit without a sweep has none, though it is complete; a file from elsewhere has one without marks.
    const complete = capture([], { status: 'complete' });
    expect(doneSteps({ ...ready, analysis: undefined, capture: complete }).has('sweep')).toBe(false);
    expect(doneSteps({ ...ready, analysis: found(), capture: complete }).has('sweep')).toBe(true);
    // The mark itself ends a sweep that is going on.
    expect(isSweeping(capture(['sweep-start', 'sweep-void']).marks)).toBe(false);
    expect(isSweeping(capture(['sweep-start', 'sweep-void', 'sweep-start']).marks)).toBe(true);
    const trials = [trial, { ...trial, id: 2, status: 'void' as const, corrects: 1 }];
    const marks: MarkKind[] = ['as-found', 'sweep-start', 'sweep-end'];
    expect(nextStep({ ...ready, capture: capture(marks, { trials }) })?.place).toBe('light-off');
  });

  it('is the next trial while one is advised and nobody has asked for the window since the last', () => {
    const made = capture(['as-found', 'sweep-start', 'sweep-end'], { trials: [trial] });
    const label = (nextTrial: VisitProgress['nextTrial'], more: Partial<VisitProgress> = {}) =>
      nextStep({ ...ready, analysis: undefined, capture: made, nextTrial, ...more })?.label;
    const next = { pressure: 2.4, sparkDelay_s: 0, reason: '' };
    expect(label(next)).toBe('Shut gas and purge, then the next trial');
    const shut = { ...held, gas: 'shut', flame: 'out' } as const;
    const purged = { needed: true, purgedS: 60, waitedS: 0, wantedS: 60 };
    expect(label(next, { burner: { ...shut, purge: purged } })).toBe('Make the next light-off trial');
    expect(label(next, { burner: { ...shut, purge: { ...purged, purgedS: 20 } } })).toMatch(/^Purge, then/u);
    expect(label(null)).toBe('Check the window');
    // The plan asks for more, and something is missing for it: not in the window.
    expect(label(null, { stopsShort: true })).toBe('No trial is advised: see why');
    expect(label(undefined)).toBe('Check the window');
    // After each trial the next one is worked out anew: the window need not be checked meanwhile.
    expect(label(undefined, { isAdvising: true })).toBe('Calculating…');
    expect(label(next, { burner: { ...held, flame: 'dark' } })).toBe('Shut the gas now, then purge');
  });

  it('is to view the window, then to set, then to finish, once a trial was made', () => {
    const withTrial = { trials: [trial] };
    const marks: MarkKind[] = ['as-found', 'sweep-start', 'sweep-end'];
    const left = capture([...marks, 'as-left'], withTrial);
    expect(nextStep({ ...ready, analysis: undefined, capture: capture(marks, withTrial) })?.place).toBe('window');
    expect(nextStep({ ...ready, capture: capture(marks, withTrial) })?.place).toBe('set');
    expect(nextStep({ ...ready, analysis: found('pass'), capture: left })?.place).toBe('proof');
    expect(nextStep({ ...ready, capture: capture(marks, { status: 'complete' }) })).toBeUndefined();
  });

  it('claims neither end where none was reached, or nobody knows yet', () => {
    const label = (analysis: typeof ready.analysis | undefined) =>
      nextStep({ ...ready, analysis, capture: capture(['as-found', 'sweep-start', 'sweep-end']) })?.label;
    expect(label(undefined)).toBe('Make light-off trials');
    expect(label(found(undefined, 'open-both'))).toMatch(/neither end was reached/u);
    expect(label(found(undefined, 'open-low'))).toMatch(/low end was not reached/u);
    expect(label(found(undefined, 'open-high'))).toMatch(/high end was not reached/u);
  });

  it('is to finish only after a pass that rests on what is on record', () => {
    const left = capture(['as-found', 'sweep-start', 'sweep-end', 'as-left'], { trials: [trial] });
    const step = (analysis: typeof ready.analysis | undefined, isCalculating = false) =>
      nextStep({ ...ready, analysis, isCalculating, capture: left });
    expect(step(undefined)).toEqual({ place: 'window', label: 'Check the window' });
    expect(step(undefined, true)?.label).toBe('Calculating…');
    expect(step(found())?.label).toBe('No decision on as-left: see why');
    expect(step(found('conditional-pass'))).toEqual({ place: 'set', label: 'As-left: conditional pass. See why' });
    for (const decision of ['conditional-fail', 'fail'] as const)
      expect(step(found(decision))?.label).toBe('As-left does not pass: see why');
  });

  it('leads to no set point that there is none, and checks off no window without one', () => {
    const visit = capture(['as-found', 'sweep-start', 'sweep-end'], { trials: [trial] });
    const none = { result: { window: { status: 'none' as const } } };
    expect(nextStep({ ...ready, analysis: none, capture: visit })?.place).toBe('window');
    expect(doneSteps({ ...ready, analysis: none, capture: visit }).has('window')).toBe(false);
    expect(doneSteps({ ...ready, analysis: undefined, capture: visit }).has('window')).toBe(false);
    expect(doneSteps({ ...ready, capture: visit }).has('window')).toBe(true);
  });
});

describe('with gas shut', () => {
  const shut = { ...ready, burner: { ...held, gas: 'shut' as const, flame: 'dark' as const, purge: seen } };
  it.each([
    [capture(['as-found']), 'Light the pilot, then begin the sweep'],
    [capture([], { regulatorTurned: true }), 'As-found was not taken. Light the pilot, then begin the sweep'],
  ])('no sweep is asked for before the pilot is lit', (visit, label) =>
    expect(nextStep({ ...shut, capture: visit })?.label).toBe(label),
  );
});

/** Forty of sixty seconds are over. */
const due = { needed: true, purgedS: 40, waitedS: 0, wantedS: 60 };

it('nobody is told to light the pilot before the purge that is due is over', () => {
  const label = (purge: typeof due, visit = capture([])) =>
    nextStep({ ...ready, burner: { ...held, gas: 'shut', flame: 'out', purge }, capture: visit });
  expect(label(due)).toEqual({ place: 'light-off', label: 'Purge, then light the pilot' });
  expect(label(due, capture(['as-found']))?.label).toBe('Purge, then light the pilot');
  expect(label({ ...due, purgedS: 60 })?.label).toBe('Light the pilot, then record as-found');
});

describe('without a flame', () => {
  const sweeping = capture(['as-found', 'sweep-start']);
  const toSet = capture(['as-found', 'sweep-start', 'sweep-end'], { trials: [trial] });
  it.each([
    ['gas shut', { ...held, gas: 'shut', flame: 'out' }, 'Relight the pilot, or end the sweep'],
    ['a purge due', { ...held, gas: 'shut', flame: 'out', purge: due }, 'Purge, then relight the pilot'],
    ['the flame lost', { ...held, flame: 'lost' }, 'No flame: do not turn'],
    ['a meter in trouble', { ...held, gas: 'unknown' }, 'Flame not known: do not turn'],
    ['no word from the host', undefined, 'Flame not known: do not turn'],
  ] as const)('nobody is told to turn in a sweep: %s', (_what, burner, label) => {
    expect(nextStep({ ...ready, burner, capture: sweeping })?.label).toBe(label);
    const isDue = burner !== undefined && burner.purge === due;
    const step = nextStep({ ...ready, burner, capture: toSet });
    expect(step?.label).toBe(isDue ? 'Purge, then light the pilot' : 'Set once the pilot burns');
  });

  it('a purge that is due comes before the burner’s name, and no longer once the pressure as left is recorded', () => {
    const burner = { ...held, gas: 'shut', flame: 'out', purge: due } as const;
    expect(nextStep({ ...ready, burner, burnerNamed: false, capture: toSet })?.place).toBe('light-off');
    const left = capture(['as-found', 'sweep-start', 'sweep-end', 'as-left'], { trials: [trial] });
    expect(nextStep({ ...ready, burner, capture: left })?.label).not.toContain('Purge');
  });

  it('nobody is told to light the pilot while the page says why not: more air, a leak, a signal without gas, or a trial that did not light', () => {
    const shut = { ...held, gas: 'shut' as const, flame: 'dark' as const, purge: seen };
    const label = (
      burner: Omit<typeof shut, 'flame'> & Pick<BurnerView, 'flame' | 'moreAir'>,
      trials: CaptureView['trials'],
    ) => nextStep({ ...ready, burner, capture: capture([], { trials }) })?.label;
    expect(label(shut, [])).toBe('Light the pilot, then record as-found');
    expect(label({ ...shut, moreAir: true }, [])).toBe('More air than at light-off, or a leak: look at the damper');
    expect(label({ ...shut, flame: 'unknown' }, [])).toBe('Signal without gas: it must be dark first');
    expect(label(shut, [{ ...trial, lit: false }])).toBe('The last trial did not light: find out why first');
    expect(label(shut, [trial])).toBe('Light the pilot, then record as-found');
  });

  it('gas that came on too early is to be shut for as long as it flows unlit, trial or not', () => {
    const early = {
      startedS: 0,
      gasS: 0,
      sawGas: true,
      purgeShort: 'Purge: 5 s left.',
    } as unknown as CaptureView['runningTrial'];
    const label = (burner: typeof held) =>
      nextStep({ ...ready, burner, capture: capture([], { runningTrial: early }) })?.label;
    expect(label({ ...held, flame: 'dark' })).toBe('Shut the gas now, then purge');
    expect(label(held)).toBe('Watch the light-off trial');
  });

  it('a burner without a name is named before the recording or at its end: meanwhile the visit goes on', () => {
    const step = (kinds: Parameters<typeof capture>[0], decision?: Decision) =>
      nextStep({
        ...ready,
        burnerNamed: false,
        analysis: found(decision),
        capture: capture(kinds, { trials: kinds.length > 1 ? [trial] : [] }),
      })?.label;
    expect(step([])).toBe('Record as-found before turning anything');
    expect(step(['as-found'])).toBe('Begin the sweep');
    const left = ['as-found', 'sweep-start', 'sweep-end', 'as-left'] as const;
    expect(step([...left], 'fail')).toBe('As-left does not pass: see why');
    expect(step([...left], 'pass')).toBe('Enter the burner’s name');
  });

  it('but near an end of the window, where it burns unsteadily, the sweep goes on', () => {
    const unsteady = { ...held, flame: 'unsteady' } as const;
    expect(nextStep({ ...ready, burner: unsteady, capture: sweeping })?.label).toMatch(/^Turn slowly/u);
  });
});

it('checks off light-off when its plan is met at the pressure as left, not after a trial of any kind', () => {
  const tried = { ...ready, capture: capture([], { trials: [trial] }) };
  const isDone = (lightOff?: { planMet?: boolean }) =>
    doneSteps({ ...tried, analysis: { result: { ...found().result, ...(lightOff && { lightOff }) } } }).has(
      'light-off',
    );
  expect([isDone(), isDone({}), isDone({ planMet: false }), isDone({ planMet: true })]).toEqual([
    false,
    false,
    false,
    true,
  ]);
});

it('checks off a step only when it was done', () => {
  expect(doneSteps({ ...ready, capture: capture(['sweep-start']) }).has('sweep')).toBe(false);
  expect(doneSteps({ ...ready, capture: capture(['sweep-start', 'sweep-end']) }).has('sweep')).toBe(true);
});

describe('the newest number of a meter', () => {
  const meter = (status: 'live' | 'silent', ageMs: number) => ({
    port: 'p',
    profile: 'x',
    status,
    linesPerSecond: 10,
    lines: 1,
    latest: [{ role: 'pilot_pressure' as const, unit: 'Pa', value: 600, ageMs }],
    recentLines: [],
  });
  it('is live with its own unit', () => {
    expect(latestReading([meter('live', 100)]).pressure).toMatchObject({ value: 600, unit: 'Pa', stale: false });
  });
  it('is stale when it is old or the meter is silent, and is never taken for live', () => {
    expect(latestReading([meter('live', 9000)]).pressure?.stale).toBe(true);
    expect(latestReading([meter('silent', 100)]).pressure?.stale).toBe(true);
    expect(latestReading([meter('live', 100)]).signal).toBeUndefined();
  });
});
