import { describe, expect, it } from 'vitest';
import { unjudgedTrials } from '../../../shared/model/trials/unjudged-trials.ts';
import { neverAborted, valueOf } from '../test-host.ts';
import { burning, openStory, setup, shut, unlit } from './burner-story.ts';

describe('a trial that the meters do not decide', () => {
  it('when one of the meters fails during it: the technician enters the result', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1.5, unlit);
    await story.run(8, { ...unlit, signal: undefined });
    await story.run(8, { ...shut, signal: undefined });
    const view = await story.view();
    expect(view.trials).toEqual([]);
    expect(view.runningTrial).toMatchObject({ undecided: 'signal-meter-failed' });
    valueOf(await story.handlers['trials.end']({ capture: story.capture(), lit: false }, neverAborted));
    expect((await story.view()).trials).toMatchObject([{ lit: false, knownBy: 'hand' }]);
  });

  // A spark that the detector sees gives as much as a flame, two seconds before the gas and for as long as it flows.
  it('where the signal of a flame was there before the gas: the technician enters the result', async () => {
    const story = await openStory();
    await story.run(20, shut);
    await story.run(2, { ...shut, signal: 4.6 });
    await story.run(16, burning);
    const view = await story.view();
    expect(view.trials).toEqual([]);
    expect(view.runningTrial).toMatchObject({ undecided: 'signal-before-gas' });
    const ended = await story.handlers['trials.end']({ capture: story.capture(), lit: true }, neverAborted);
    valueOf(ended);
    expect((await story.view()).trials).toMatchObject([{ lit: true, knownBy: 'hand' }]);
  });

  // An igniter test with gas shut: the detector sees the spark as strongly as it will see the flame, of which nothing is known yet.
  it.each([burning, { ...burning, signal: 4.5 }])(
    'where the spark was seen to give as much as a flame',
    async (shown) => {
      const story = await openStory();
      await story.handlers['burner.air']({ confirmed: true }, neverAborted);
      await story.run(20, shut);
      await story.run(6, { ...shut, signal: 4.5 });
      await story.run(30, shut);
      await story.run(6, shown);
      expect((await story.view()).runningTrial).toMatchObject({ undecided: 'spark-like-flame' });
      // No flame is said to burn, and nothing is taken for found or left, before the spark must be over.
      const { flame, settingRefusal } = await story.burner();
      expect([flame, settingRefusal?.code]).toEqual(['unknown', 'burner-unknown']);
      await story.run(20, shut);
      const { marks, trials, runningTrial } = await story.view();
      expect(runningTrial).toBeUndefined();
      expect(trials).toEqual([]);
      const [open] = unjudgedTrials(marks, trials, true);
      // What was seen of the purge before it is on record with the result that is entered later.
      const entry = { pressure: 2.4, unit: 'inH2O', lit: true, knownBy: 'hand', elapsedS: open!.fromS } as const;
      const input = { capture: story.capture(), trial: { ...entry, reason: 'seen through the sight port' } };
      valueOf(await story.handlers['trials.add'](input, neverAborted));
      const [entered] = (await story.view()).trials;
      expect(entered).toMatchObject({ lit: true, purgeBy: 'confirmed' });
      // 20 and 30 s, shut and dark: the six seconds of the igniter in between do not count. Each moment is judged a second late.
      expect(entered!.purgeS).toBeGreaterThan(47);
      expect(entered!.purgeS).toBeLessThan(53);
    },
  );
  it('and no flame is said to burn over its gas once it is entered as not lit: an alarm comes', async () => {
    const story = await openStory();
    await story.run(20, shut);
    await story.run(6, { ...shut, signal: 4.5 });
    await story.run(30, shut);
    await story.run(5, { ...burning, signal: 4.5 }); // gas and spark, and nothing burns
    valueOf(await story.handlers['trials.end']({ capture: story.capture(), lit: false }, neverAborted));
    await story.run(12, { ...burning, signal: 4.5 });
    const { flame, alarm, settingRefusal } = await story.burner();
    expect(flame).not.toBe('burning');
    expect(alarm).toBeDefined();
    expect(settingRefusal).toBeDefined();
    await story.run(10, shut);
    expect((await story.burner()).alarm).toBeUndefined();
    // The next one is judged by itself.
    await story.run(40, shut);
    await story.run(5, burning);
    valueOf(await story.handlers['trials.end']({ capture: story.capture(), lit: true }, neverAborted));
    await story.run(15, burning);
    expect(await story.burner()).toMatchObject({ flame: 'burning' });
  });
  it('and the end of that spark over unlit gas is no flame that is lost', async () => {
    const story = await openStory();
    await story.run(20, shut);
    await story.run(6, { ...shut, signal: 4.5 });
    await story.run(30, shut);
    await story.run(4, { ...burning, signal: 4.5 }); // gas and spark, and nothing burns
    await story.run(4, unlit);
    expect((await story.burner()).alarm).toBeUndefined();
    expect(await story.burner()).toMatchObject({ gas: 'flowing', flame: 'dark' });
    await story.run(6, unlit);
    expect((await story.burner()).alarm).toMatchObject({ kind: 'gas-unlit' });
    await story.run(10, shut);
    expect((await story.view()).marks.map(({ kind }) => kind)).not.toContain('flame-lost');
    expect((await story.stretches()).map(({ kind }) => kind)).not.toContain('lost');
  });
  it('where the signal is far below what the flame gave at the same pressure: it may be a spark of which nothing is known', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(20, burning); // a trial that lights, and burns on
    await story.run(40, shut);
    await story.run(8, { ...burning, signal: 1.5 }); // gas and spark, above the minimum of 1.25 V, and nothing burns
    expect((await story.view()).runningTrial).toMatchObject({ undecided: 'weaker-than-before' });
    const { flame, settingRefusal, alarm } = await story.burner();
    expect([flame, settingRefusal?.code, alarm]).toEqual(['unknown', 'burner-unknown', undefined]);
    await story.run(6, unlit);
    expect((await story.burner()).alarm).toMatchObject({ kind: 'gas-unlit' });
    await story.run(20, shut);
    const { trials, marks } = await story.view();
    expect(trials.map(({ lit }) => lit)).toEqual([true]);
    expect(unjudgedTrials(marks, trials, true)).toHaveLength(1);
  });
  it('not at another pressure, where a pilot gives less', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(20, burning);
    await story.run(40, shut);
    await story.run(20, { pressure: 1.6, signal: 1.5 });
    await story.run(10, shut);
    expect((await story.view()).trials.map(({ lit, knownBy }) => [lit, knownBy])).toEqual([
      [true, 'meters'],
      [true, 'meters'],
    ]);
  });
  it('where such a signal was entered for the spark alone', async () => {
    const story = await openStory({ setup: { ...setup, sparkOnlySignal: { value: 3, unit: 'V' } } });
    await story.run(20, shut);
    await story.run(6, burning);
    expect((await story.view()).runningTrial).toMatchObject({ undecided: 'spark-like-flame' });
    expect((await story.burner()).flame).toBe('unknown');
    await story.run(10, burning); // no control sparks for so long
    expect(await story.burner()).toMatchObject({ flame: 'burning' });
    // What is believed as soon as the spark must be over needs no alarm.
    expect((await story.burner()).alarm).toBeUndefined();
    expect((await story.view()).marks.map(({ kind }) => kind)).not.toContain('gas-unlit');
  });
  it('not where the flame is known to give clearly more than the spark: only that proves it', async () => {
    const story = await openStory({ setup: { ...setup, sparkOnlySignal: { value: 2, unit: 'V' } } });
    await story.run(20, burning); // the pilot burns as the recording begins
    await story.run(40, shut);
    await story.run(13, { ...unlit, signal: 2 }); // the spark alone, seen for as long as gas flows
    await story.run(40, shut);
    await story.run(20, burning);
    const { trials } = await story.view();
    expect(trials.map(({ lit, knownBy }) => [lit, knownBy])).toEqual([
      [false, 'meters'],
      [true, 'meters'],
    ]);
  });

  // Once a flame has shown how much it gives, a spark of less than that is a signal without gas before the gas comes on.
  it('waits in the record once its gas is shut, and the next trial does not judge it', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(20, burning);
    await story.run(40, shut);
    await story.run(2, { ...shut, signal: 2 });
    await story.run(13, { ...unlit, signal: 2 });
    await story.run(40, shut);
    const waits = await story.view();
    expect(waits.runningTrial).toBeUndefined();
    expect(waits.trials).toHaveLength(1);
    expect(unjudgedTrials(waits.marks, waits.trials, true)).toHaveLength(1);
    await story.run(2, unlit);
    await story.run(12, burning);
    const { marks, trials } = await story.view();
    expect(trials).toHaveLength(2);
    expect(trials[1]).toMatchObject({ lit: true, knownBy: 'meters' });
    expect(unjudgedTrials(marks, trials, true)).toHaveLength(1);
  });
});
