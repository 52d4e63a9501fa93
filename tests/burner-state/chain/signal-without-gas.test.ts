import { describe, expect, it } from 'vitest';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { createTrialFollower } from '../../../shared/burner-state/trials/trial-follower.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { at, captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

const known: Known = { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.2, minimumSignal: 1.25 };
const setup: Setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' }, minimumSignal: { value: 1.25, unit: 'V' } };
const restless = (t: number) => 0.03 * Math.sin(13.7 * t) + 0.02 * Math.sin(31 * t);

/** A detector that sees the spark, 1.5 V from 30 to 38 s, gas shut; a plain trial at 60 s, lit at 61 s. */
const spark: Story = {
  seconds: 90,
  pressure: (t) => towards(0.2, 2.5, 0.15, t, 60),
  signal: (t) => {
    if (t > 30 && t < 38) return 1.5 + restless(t);
    return towards(0.02, 4.6, 0.4, t, 61);
  },
};
/**
 * A spark that the detector sees as strongly as a flame, 4.6 V of 4.6 V: it is checked with gas shut from 20 s on, for so many seconds. Then
 * gas comes on, lights, and is shut at 60 s; the spark is checked again for 8 s at 80 s.
 */
const strongSpark = (checkS: number, fanOnly: number): Story => {
  const gasS = 20 + checkS;
  const isSeen = (t: number) => (t > 20 && t < 60.4) || (t > 80 && t < 88);
  return {
    seconds: 110,
    pressure: (t) => (t < 60 ? towards(fanOnly, 2.4, 0.15, t, gasS) : towards(2.4, fanOnly, 0.2, t, 60)),
    signal: (t) => {
      const [from, to] = isSeen(t) ? [0.02, 4.6] : [4.6, 0.02];
      const since = [20, 60.4, 80, 88].filter((s) => s < t).at(-1);
      return since === undefined ? 0.02 : towards(from, to, 0.4, t, since);
    },
  };
};
/** Gas at 10 s, lit, shut at 60 s; hot refractory gives 2 V that fade within `fadesS`; gas again at 130 s, lit at 131 s. */
const refractory = (fadesS: number): Story => {
  const glow = (t: number) => 2 * Math.exp(-(t - 60.6) / fadesS) + 0.3 * restless(t);
  return {
    seconds: 150,
    pressure: (t) => {
      if (t < 60) return openedAt10(t);
      return t < 130 ? towards(3, 0.2, 0.2, t, 60) : towards(0.2, 3, 0.15, t, 130);
    },
    signal: (t) => {
      if (t < 60.6) return t < 60.2 ? litAt11(t) : 3.5;
      return t < 131 ? glow(t) : towards(glow(131), 5, 0.6, t, 131);
    },
  };
};

const gasOn = (told: ReturnType<typeof follow>) => {
  const follower = createTrialFollower();
  return told
    .flatMap(({ now }) => follower.step(now, 10) ?? [])
    .flatMap((event) => (event.kind === 'gas-on' ? [event.atS] : []));
};

describe('a signal while gas is shut is no flame and no gas', () => {
  it('a spark that the detector sees begins no trial and raises no alarm', () => {
    const told = follow(readingsOf(spark), 90, undefined, known);
    expect(at(told, 36).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
    expect(at(told, 45).now.moment).toMatchObject({ gas: 'shut', flame: 'dark' });
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    expect(gasOn(told).map(Math.round)).toEqual([60]);
    expect(at(told, 80).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
  });

  it.each([
    [2, 0.2],
    [6, 0.2],
    [12, 0.2],
    // Nobody has entered the fan-only pressure, and no gas was seen yet: the gauge shows the fan.
    [2, undefined],
    [6, undefined],
    [12, undefined],
  ])(
    'nor does one as strong as a flame, %d s before the gas, fan-only %s, until it hides for too long whether gas burns: it teaches nothing',
    (checkS, fanOnly) => {
      const { fanOnly: _, ...rest } = known;
      const told = follow(readingsOf(strongSpark(checkS, 0.2)), 110, undefined, {
        ...rest,
        ...(fanOnly && { fanOnly }),
      });
      // Over gas that came on under it nobody can tell whether a flame burns: once the trial of 10 s is over that is said until gas is shut.
      const alarmed = told.filter(({ alarm }) => alarm !== undefined);
      for (const { nowS, raised } of alarmed) {
        expect(raised).toMatchObject({ kind: 'gas-unlit', flameUnseen: true });
        expect(nowS).toBeGreaterThan(30 + checkS);
        expect(nowS).toBeLessThan(62);
      }
      expect(alarmed.length > 0).toBe(checkS > 2);
      expect(told.filter(({ now }) => now.pressureTrouble !== undefined)).toEqual([]);
      for (const s of [21.8, 20.9 + checkS])
        expect(at(told, s).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
      expect(at(told, 24 + checkS).now.moment).toMatchObject({ gas: 'flowing' });
      for (const s of [65, 70]) expect(at(told, s).now.moment).toMatchObject({ gas: 'shut', flame: 'out' });
      expect(at(told, 84).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
      expect(gasOn(told).map(Math.round)).toEqual([20 + checkS]);
    },
  );

  it('nor where the fan shows nothing at the tap, once gas was seen to come on', () => {
    const told = follow(readingsOf(strongSpark(0, 0)), 110, undefined, { ...known, fanOnly: 0 });
    for (const s of [82, 87]) expect(at(told, s).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
  });

  it.each([
    { stray: 4.6, ends: 75 },
    { stray: 2.3, ends: 75 },
    { stray: 1.6, ends: 75 },
    { stray: 4.6, ends: 48 },
  ])(
    '$stray V until $ends s that were there before the gas prove no flame once gas is on, and are none once it is shut',
    ({ stray, ends }) => {
      // A plain trial from 5 s to 20 s; then the signal without a flame from 32 s on, and gas that nobody lights from 40 s to 55 s.
      const story: Story = {
        seconds: 85,
        pressure: (t) => {
          const since = [5, 20, 40, 55].filter((s) => s <= t).at(-1);
          if (since === undefined) return 0.2;
          const [from, to] = since === 5 || since === 40 ? [0.2, 2.4] : [2.4, 0.2];
          return towards(from, to, 0.15, t, since);
        },
        signal: (t) => {
          if (t < 20.3) return towards(0.02, 4.6, 0.4, t, 6);
          if (t < 32) return towards(4.6, 0.02, 0.4, t, 20.3);
          return t < ends ? towards(0.02, stray, 0.4, t, 32) : towards(stray, 0.02, 0.4, t, ends);
        },
      };
      const told = follow(readingsOf(story), 85, undefined, known);
      for (const { nowS, now } of told)
        if (nowS > 33.5) expect(now.moment.flame, `at ${nowS} s`).not.toMatch(/burning|unsteady|lighting/u);
      expect(at(told, 45).now.moment).toMatchObject({ gas: 'flowing', flame: 'unknown' });
      if (ends > 55)
        for (const s of [58, 65, 73]) expect(at(told, s).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
      // Gas that is dark is unlit, and was for as long as it flowed.
      else expect(at(told, 53).alarm).toBe('gas-unlit');
      // For longer than the trial, 10 s from 40 s on, nobody could say that it burns.
      expect(at(told, 49.5).alarm).toBe(undefined);
      for (const s of [52, 54.5]) {
        expect(at(told, s).raised).toMatchObject({ kind: 'gas-unlit' });
        expect(at(told, s).raised!.flameUnseen).toBe(ends > 55 ? true : undefined);
      }
      expect(at(told, 60).alarm).toBe(undefined);
      expect(told.filter(({ now }) => now.pressureTrouble !== undefined)).toEqual([]);
    },
  );

  it.each([1.6, 2.3])('a flame that adds to %d V is one', (stray) => {
    const story: Story = {
      seconds: 60,
      pressure: (t) => towards(0.2, 2.4, 0.15, t, 30),
      signal: (t) => towards(0.02, stray, 0.4, t, 20) + towards(0, 4.6 - stray, 0.4, t, 31),
    };
    const told = follow(readingsOf(story), 60, undefined, known);
    expect(at(told, 30.5).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
    for (const s of [38, 45, 55]) expect(at(told, s).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
  });

  it('with hindsight neither', () => {
    const { spans } = trackCapture(captureOf(readingsOf(strongSpark(6, 0.2))), setup);
    const shut = spans.filter(({ from_s, to_s }) => to_s < 25.5 || from_s > 62);
    expect(new Set(shut.map(({ gas }) => gas))).toEqual(new Set(['shut']));
    expect(shut.map(({ flame }) => flame)).not.toContain('burning');
    const burning = spans.filter(({ from_s, to_s }) => from_s < 59 && to_s > 30);
    expect(new Set(burning.map(({ gas }) => gas))).toEqual(new Set(['flowing']));
  });

  it.each([35, 12])(
    'hot refractory that fades within %d s neither, and is not called dark, over which a purge would count',
    (fadesS) => {
      const readings = readingsOf(refractory(fadesS));
      const told = follow(readings, 150, undefined, known);
      expect(at(told, 67).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
      expect(told.filter(({ nowS, now }) => nowS > 67 && nowS < 129 && now.moment.gas !== 'shut')).toEqual([]);
      expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
      expect(gasOn(told).map(Math.round)).toEqual([10, 130]);
      const { spans } = trackCapture(captureOf(readings), setup);
      const between = spans.filter(({ from_s, to_s }) => from_s < 129 && to_s > 65);
      expect(new Set(between.map(({ gas }) => gas))).toEqual(new Set(['shut']));
    },
  );
});

describe('a signal that stands there from the first reading on', () => {
  // A stuck amplifier, or a jumper: 2 V all the time. Gas comes on at 15 s and is shut at 40 s.
  const stuck = (fanOnly: number): Story => ({
    seconds: 60,
    pressure: (t) => (t < 40 ? towards(fanOnly, 2.5, 0.2, t, 15) : towards(2.5, fanOnly, 0.2, t, 40)),
    signal: () => 2,
  });
  it.each([0.12, 0.25, 0.5])('is no flame where the manometer shows the entered fan-only pressure of %d', (fanOnly) => {
    const readings = readingsOf(stuck(fanOnly));
    const told = follow(readings, 60, undefined, { ...known, fanOnly });
    // What is said live at most a second later.
    for (const { nowS, now } of told)
      if (nowS > 1) expect(`${nowS} ${now.latest.flame}`).not.toMatch(/burning|unsteady/u);
    for (const s of [5, 14]) expect(at(told, s).now.latest.gas).toBe('shut');
    expect(at(told, 30).now.latest.gas).toBe('flowing');
    const { spans } = trackCapture(captureOf(readings), { fanOnlyPressure: { value: fanOnly, unit: 'inH2O' } });
    expect(spans.map(({ flame }) => flame)).not.toContain('burning');
  });
  it('is a flame where the manometer shows gas', () => {
    const burns: Story = { ...stuck(0.25), pressure: () => 2.5 };
    const told = follow(readingsOf(burns), 60, undefined, { ...known, fanOnly: 0.25 });
    expect(at(told, 5).now.latest).toMatchObject({ gas: 'flowing', flame: 'burning' });
  });
  // At zero the hose may be off, or its tap shut: what burns is believed.
  it('is believed where the manometer shows no fan either', () => {
    const told = follow(readingsOf({ ...stuck(0), pressure: () => 0 }), 60, undefined, { ...known, fanOnly: 0.25 });
    expect(at(told, 10).now.latest.gas).not.toBe('shut');
  });
});
