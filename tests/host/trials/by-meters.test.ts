import { describe, expect, it } from 'vitest';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { neverAborted, valueOf } from '../test-host.ts';
import { burning, codeOf, openStory, setup, shut, unlit } from './burner-story.ts';

const ignitionProfile: Profile = {
  ...builtInProfiles[0]!,
  name: 'Ignition, one state a line',
  channels: [{ role: 'ignition', unit: 'on', scale: 1, offset: 0 }],
};

describe('a light-off trial that no hand begins', () => {
  it('begins with the gas, is shown at once, and is stored with what the meters showed', async () => {
    const story = await openStory();
    await story.run(10, shut);
    expect((await story.view()).runningTrial).toBeUndefined();
    await story.run(1.3, unlit); // gas at 10.0 s, told at most a second late
    const { runningTrial, marks } = await story.view();
    expect(runningTrial).toMatchObject({ knownBy: 'meters' });
    // Two tenths, and no more than the rounding of a double beside it.
    expect(Math.abs(runningTrial!.gasS! - 10.1)).toBeLessThanOrEqual(0.2 + 1e-9);
    expect(runningTrial).not.toHaveProperty('sparkDelayS');
    expect(marks.filter(({ kind }) => kind === 'trial-start')).toHaveLength(1);
    await story.run(0.7, unlit);
    await story.run(12, burning); // the spark, at 12.0 s
    const view = await story.view();
    expect(view.runningTrial).toBeUndefined();
    expect(view.trials).toHaveLength(1);
    const [trial] = view.trials;
    expect(trial).toMatchObject({ lit: true, knownBy: 'meters', unit: 'inH2O' });
    expect(Math.abs(trial!.pressure - 2.4)).toBeLessThan(0.01);
    expect(Math.abs(trial!.pressureBefore! - 0.2)).toBeLessThan(0.01);
    // By hand: 1.25 V of 4.6 V is reached 0.5 s x ln(4.58 / 3.35) = 0.16 s after the flame began, 2.16 s after the gas.
    expect(Math.abs(trial!.timeToProveS! - 2.16)).toBeLessThanOrEqual(0.2);
    expect(trial).not.toHaveProperty('sparkDelayS');
    expect(view.marks.filter(({ kind }) => kind.startsWith('trial'))).toMatchObject([
      { kind: 'trial-start' },
      { kind: 'trial-end', text: 'lit, 2.40 inH2O' },
    ]);
    expect(story.stored().trials).toHaveLength(1);
  });

  it('that does not light ends with the gas, and knows the pressure after it', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(6, unlit);
    await story.run(6, shut);
    const { trials, runningTrial } = await story.view();
    expect(runningTrial).toBeUndefined();
    expect(trials).toMatchObject([{ lit: false, knownBy: 'meters' }]);
    expect(trials[0]).not.toHaveProperty('timeToProveS');
    expect(Math.abs(trials[0]!.pressureAfter! - 0.2)).toBeLessThan(0.01);
  });

  it('that lit knows the pressure after it once gas was shut, minutes later, and so does its correction', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(30, burning);
    const [lit] = (await story.view()).trials;
    expect(lit).not.toHaveProperty('pressureAfter');
    const changes = { note: 'spark seen late' };
    const correction = { capture: story.capture(), trial: lit!.id, changes, reason: 'seen' };
    valueOf(await story.handlers['trials.correct'](correction, neverAborted));
    await story.run(60, burning);
    await story.run(2, shut); // the fan runs: 0.2 inH2O, but not long enough yet to be known
    expect((await story.view()).trials[1]).not.toHaveProperty('pressureAfter');
    await story.run(5, shut);
    const { trials } = await story.view();
    expect(trials).toHaveLength(2);
    for (const { pressureAfter } of trials) expect(Math.abs(pressureAfter! - 0.2)).toBeLessThan(0.01);
  });

  it('that is followed by another one before gas stood shut has no pressure after it', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(12, burning);
    await story.run(2.5, shut);
    await story.run(1, unlit);
    await story.run(12, burning);
    await story.run(8, shut);
    const { trials } = await story.view();
    expect(trials).toHaveLength(2);
    expect(trials[0]).not.toHaveProperty('pressureAfter');
    expect(Math.abs(trials[1]!.pressureAfter! - 0.2)).toBeLessThan(0.01);
  });

  it('whose recording ended while it burned has no pressure after it, whatever the next recording shows', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(12, burning);
    const first = story.capture();
    valueOf(await story.handlers['captures.finish']({ capture: first }, neverAborted));
    await story.record();
    await story.run(3, burning);
    await story.run(8, shut);
    const { trials } = valueOf(await story.handlers['captures.get']({ capture: first }, neverAborted));
    expect(trials).toMatchObject([{ lit: true }]);
    expect(trials[0]).not.toHaveProperty('pressureAfter');
  });

  it('that is over by its time has not lit, also when a flame comes later', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(12, unlit);
    await story.run(8, burning);
    expect((await story.view()).trials).toMatchObject([{ lit: false }]);
    await story.run(20, burning);
    expect((await story.view()).trials).toHaveLength(1);
  });

  it('waits for a signal that reaches the minimum later than the tracker sees the flame', async () => {
    const story = await openStory({ setup: { ...setup, minimumSignal: { value: 3, unit: 'V' } } });
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(6, { pressure: 2.4, signal: 2 }); // burns, below the minimum
    expect((await story.view()).trials).toEqual([]);
    await story.run(6, burning); // reaches it 7 s after the gas
    const { trials } = await story.view();
    expect(trials).toMatchObject([{ lit: true }]);
    expect(trials[0]!.timeToProveS).toBeGreaterThan(7);
    expect(trials[0]!.timeToProveS).toBeLessThan(8);
  });

  it('waits no longer than its gas: shut gas is followed by the entry, whatever the flame had reached', async () => {
    const { run, view } = await openStory();
    await run(10, shut);
    await run(1, unlit);
    await run(3, { pressure: 2.4, signal: 1 });
    expect((await view()).runningTrial).toBeDefined();
    await run(5, shut);
    const { runningTrial, trials } = await view();
    expect(runningTrial).toBeUndefined();
    expect(trials).toHaveLength(1);
  });
  it('is measured once the flame has had time to reach its level, where no minimum signal is entered', async () => {
    const { minimumSignal: _none, ...rest } = setup;
    const story = await openStory({ setup: rest });
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(3, { pressure: 2.4, signal: 2 });
    await story.run(12, burning); // its level; half of it, 2.3 V, is reached 4 s after the gas and not at 1 V
    const { trials } = await story.view();
    expect(trials).toMatchObject([{ lit: true }]);
    expect(trials[0]!.timeToProveS).toBeGreaterThan(3.9);
    expect(trials[0]!.timeToProveS).toBeLessThan(4.4);
  });

  it('is plain once the technician has stated that the control sparks with the gas, and not before nor after', async () => {
    const story = await openStory({ setup: { ...setup, purgeSeconds: 5 } });
    const state = async (stated: boolean) =>
      valueOf(await story.handlers['trials.sparkWithGas']({ capture: story.capture(), stated }, neverAborted));
    await story.handlers['burner.air']({ confirmed: true }, neverAborted);
    const lightOff = async () => {
      await story.run(10, shut);
      await story.run(1, unlit);
      await story.run(8, burning);
    };
    await lightOff();
    await state(true);
    expect((await story.view()).setup.sparkWithGas).toMatchObject({ by: 'the technician' });
    await lightOff();
    await state(false);
    expect((await story.view()).setup).not.toHaveProperty('sparkWithGas');
    await lightOff();
    expect((await story.view()).trials.map(({ sparkDelayS }) => sparkDelayS)).toEqual([undefined, 0, undefined]);
  });

  it('has the delay that was announced, which holds for the next trial only', async () => {
    const story = await openStory({ setup: { ...setup, purgeSeconds: 5 } });
    const announce = (sparkDelayS: number | null) =>
      story.handlers['trials.announce']({ capture: story.capture(), sparkDelayS }, neverAborted);
    await story.handlers['burner.air']({ confirmed: true }, neverAborted);
    await story.run(10, shut);
    expect(codeOf(await announce(10))).toBe('spark-delay-too-long');
    expect(codeOf(await announce(5))).toBe('ok');
    expect((await story.view()).announcedSparkS).toBe(5);
    await story.run(2, unlit);
    expect((await story.view()).runningTrial).toMatchObject({ sparkDelayS: 5 });
    expect(codeOf(await announce(5))).toBe('trial-running');
    await story.run(3, unlit);
    await story.run(8, burning);
    expect((await story.view()).announcedSparkS).toBeUndefined();
    await story.run(3, shut);
    expect(codeOf(await announce(5))).toBe('purge-wait');
    await story.run(7, shut);
    valueOf(await announce(5));
    valueOf(await announce(null)); // taken back
    await story.run(1, unlit);
    await story.run(8, burning);
    const { trials } = await story.view();
    expect(trials.map(({ sparkDelayS }) => sparkDelayS)).toEqual([5, undefined]);
    // 0.16 s after the spark at 5 s, as above.
    expect(Math.abs(trials[0]!.timeToProveFromSparkS! - 0.16)).toBeLessThanOrEqual(0.2);
  });

  it('takes the spark from a wired channel', async () => {
    const story = await openStory();
    valueOf(await story.handlers['profiles.save']({ profile: ignitionProfile }, neverAborted));
    valueOf(await story.handlers['meters.connect']({ port: 'spark', profile: ignitionProfile.name }, neverAborted));
    await story.run(10, shut, { spark: '0' });
    await story.run(3, unlit, { spark: '0' });
    await story.run(1, unlit, { spark: '1' });
    await story.run(8, burning, { spark: '0' });
    const [trial] = (await story.view()).trials;
    expect(Math.abs(trial!.sparkDelayS! - 3)).toBeLessThanOrEqual(0.2);
    expect(Math.abs(trial!.timeToProveFromSparkS! - 1.16)).toBeLessThanOrEqual(0.2);
  });

  it('is one with the trial that a button began for the same gas', async () => {
    const story = await openStory();
    await story.run(10, shut);
    valueOf(await story.handlers['trials.begin']({ capture: story.capture(), sparkDelayS: 0 }, neverAborted));
    await story.run(1, unlit);
    await story.run(8, burning);
    const { trials, marks } = await story.view();
    expect(trials).toMatchObject([{ lit: true, knownBy: 'meters', sparkDelayS: 0 }]);
    expect(marks.filter(({ kind }) => kind === 'trial-start')).toHaveLength(1);
    expect(marks.filter(({ kind }) => kind === 'trial-end')).toHaveLength(1);
  });

  it('that the technician ends is not recorded a second time by the meters', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(1, burning);
    valueOf(await story.handlers['trials.end']({ capture: story.capture(), lit: true }, neverAborted));
    await story.run(12, burning);
    const { trials } = await story.view();
    expect(trials).toMatchObject([{ lit: true, knownBy: 'hand' }]);
    expect(Math.abs(trials[0]!.pressure - 2.4)).toBeLessThan(0.01);
  });

  it('can be discarded in the record only, once its gas was seen', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(2, unlit);
    const cancel = await story.handlers['trials.cancel']({ capture: story.capture() }, neverAborted);
    expect(codeOf(cancel)).toBe('trial-has-gas');
    await story.run(6, shut);
    expect((await story.view()).trials).toHaveLength(1);
  });

  it('is settled when the recording is finished right after it', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(3, burning);
    expect((await story.view()).runningTrial).toMatchObject({ over: 'proved' });
    valueOf(await story.handlers['captures.finish']({ capture: story.capture() }, neverAborted));
    expect(story.stored()).toMatchObject({ status: 'complete', trials: [{ lit: true, knownBy: 'meters' }] });
  });
});

it('a trial that still runs does not keep a command from finishing, which nobody can answer', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(2, unlit);
  expect((await story.view()).runningTrial).toBeDefined();
  valueOf(await story.handlers['captures.finish']({ capture: story.capture() }, neverAborted));
  expect(story.stored()).toMatchObject({ status: 'complete', trials: [] });
  expect(story.stored().marks.at(-1)).toMatchObject({ kind: 'trial-end', text: 'recording was finished' });
});

describe('no trial is recorded', () => {
  it('while nothing is recorded, nor of gas that was on when the recording began', async () => {
    const story = await openStory({ records: false });
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.record();
    await story.run(12, burning);
    const { trials, marks, runningTrial } = await story.view();
    expect([trials, marks, runningTrial]).toEqual([[], [], undefined]);
  });

  it('while the flame signal meter is in trouble', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(10, { ...shut, signal: undefined });
    await story.run(8, { ...unlit, signal: undefined });
    await story.run(5, { ...shut, signal: undefined });
    const { trials, runningTrial } = await story.view();
    expect([trials, runningTrial]).toEqual([[], undefined]);
  });

  it('but is, where the flame signal meter shows dashes for a moment only, as while it changes its range', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1.5, unlit);
    await story.run(0.3, { ...unlit, signal: undefined }, { amplifier: '----' });
    await story.run(0.7, unlit);
    await story.run(9, burning);
    const { trials, runningTrial } = await story.view();
    expect(runningTrial).toBeUndefined();
    expect(trials).toMatchObject([{ lit: true, knownBy: 'meters' }]);
  });

  it('of gas that came on while the manometer said nothing', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(10, { ...shut, pressure: undefined });
    await story.run(12, unlit);
    expect((await story.view()).trials).toEqual([]);
  });

  it('of a fan that is started, once its pressure is entered: what was taken for gas has not fallen', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(3, { pressure: 0.5, signal: 0.02 });
    expect((await story.view()).runningTrial).toBeDefined();
    const told = { ...setup, fanOnlyPressure: { value: 0.5, unit: 'inH2O' as const } };
    valueOf(await story.handlers['captures.setup']({ capture: story.capture(), setup: told }, neverAborted));
    await story.run(8, { pressure: 0.5, signal: 0.02 });
    const { trials, runningTrial, marks } = await story.view();
    expect([trials, runningTrial]).toEqual([[], undefined]);
    expect(marks.at(-1)).toMatchObject({ kind: 'trial-end', text: expect.stringMatching(/^no trial/u) });
  });

  it('of a burning pilot that is turned up and down', async () => {
    const story = await openStory();
    await story.run(10, burning);
    for (const pressure of [2, 1.6, 2.2, 3, 2.4]) await story.run(4, { pressure, signal: 4.6 });
    expect((await story.view()).marks.filter(({ kind }) => kind === 'trial-start')).toEqual([]);
  });
});

describe('the purge before a trial by the meters', () => {
  const lightOff = async (story: Awaited<ReturnType<typeof openStory>>) => {
    await story.run(1, unlit);
    await story.run(8, burning);
  };

  it('is on record with its real seconds and what showed its air', async () => {
    const story = await openStory();
    await story.handlers['burner.air']({ confirmed: true }, neverAborted);
    await story.run(10, shut);
    await lightOff(story);
    await story.run(30, shut);
    await lightOff(story);
    const { trials, marks } = await story.view();
    expect(trials[0]).not.toHaveProperty('purgeS');
    expect(trials[1]).toMatchObject({ purgeBy: 'confirmed' });
    // Closing, and the signal's way down to dark, do not count.
    expect(trials[1]!.purgeS).toBeGreaterThan(25);
    expect(trials[1]!.purgeS).toBeLessThanOrEqual(30);
    expect(marks.some(({ text }) => text.startsWith('Purge shortened'))).toBe(false);
  });

  it('is reported where gas was opened before it was complete; only the button is refused', async () => {
    const story = await openStory();
    await story.handlers['burner.air']({ confirmed: true }, neverAborted);
    await story.run(10, shut);
    await lightOff(story);
    await story.run(12, shut);
    const begin = await story.handlers['trials.begin']({ capture: story.capture(), sparkDelayS: 0 }, neverAborted);
    expect(codeOf(begin)).toBe('purge-wait');
    await lightOff(story);
    const { trials, marks } = await story.view();
    expect(trials[1]).toMatchObject({ lit: true, note: expect.stringMatching(/^Purge shortened: \d+ s of 20 s\.$/u) });
    expect(trials[1]!.purgeS).toBeLessThan(12);
    expect(marks.filter(({ kind, text }) => kind === 'note' && text.startsWith('Purge shortened'))).toHaveLength(1);
  });
});
