import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';
import { createMeterWatch } from '../../../shared/burner-state/meters/meter-trouble.ts';

type Word = 'gas' | 'flame' | 'regulator' | 'phase';
const wordsOf = (readings: Reading[], name: Word, from: number, to: number): string[] => {
  const { spans } = trackCapture(captureOf(readings), {});
  return [...new Set(spans.filter(({ from_s, to_s }) => to_s > from && from_s < to).map((span) => span[name]))];
};
const words = (story: Story, name: Word, from: number, to: number) => wordsOf(readingsOf(story), name, from, to);
const alarmsOf = (readings: Reading[], untilS: number) =>
  new Set(follow(readings, untilS).flatMap(({ alarm }) => alarm ?? []));

describe('a slow detector', () => {
  // Passes 80 % of 5 V 1.6 lags after ignition at 11 s: at 13.4 s.
  const slow: Story = { seconds: 40, pressure: openedAt10, signal: (t) => towards(0.02, 5, 1.5, t, 11) };
  it('shows a burning flame from four fifths of its level on, while the rest runs in', () => {
    expect(words(slow, 'flame', 14.4, 39)).toEqual(['burning']);
    expect(words(slow, 'phase', 14.4, 39)).toEqual(['held']);
  });
});

describe('a manometer that reads below zero while a flame burns, its hose on the wrong side', () => {
  // Held in pilot from the start and turned down and up between -1 and -3 inH2O, with the signal on its plateau.
  const wrongSide: Story = {
    seconds: 90,
    pressure: (t) => -2 + Math.cos((2 * Math.PI * t) / 90),
    signal: () => 5,
  };
  const fanOnly = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const } };
  it.each([
    ['not known', {}],
    ['entered as 0.2 inH2O', fanOnly],
  ])('shows flowing gas all the same, fan-only pressure %s', (_, setup) => {
    const { spans } = trackCapture(captureOf(readingsOf(wrongSide)), setup);
    const seen = spans.filter(({ to_s }) => to_s > 2).map(({ gas, flame }) => [gas, flame]);
    expect(new Set(seen.map(String))).toEqual(new Set(['flowing,burning']));
  });
  it('shows it live too', () => {
    const told = follow(readingsOf(wrongSide), 90).filter(({ now }) => now.atS > 3);
    expect(new Set(told.map(({ now: { moment } }) => `${moment.gas},${moment.flame}`))).toEqual(
      new Set(['flowing,burning']),
    );
  });
  it('shows it too when the hose comes off in the middle, and gives no alarm', () => {
    const off: Story = { seconds: 90, pressure: (t) => (t < 40 ? openedAt10(t) : 0), signal: litAt11 };
    // The signal meter reads every other second, the manometer ten times a second; a gauge at rest shows no noise.
    const readings = readingsOf(off).flatMap((each, i) => {
      if (each.role === 'flame_signal') return i % 20 === 1 ? [each] : [];
      const shown = each.elapsedS < 40 ? each : { ...each, value: 0 };
      return [shown, { ...shown, elapsedS: shown.elapsedS + 0.1 }];
    });
    const told = follow(readings, 90);
    const later = told.filter(({ now }) => now.atS > 42).map(({ now }) => now.moment.flame);
    expect(new Set(later)).toEqual(new Set(['burning']));
    expect(new Set(told.map(({ alarm }) => alarm))).toEqual(new Set([undefined]));
    expect(wordsOf(readings, 'flame', 42, 90)).toEqual(['burning']);
  });
  it('is the shut gas of a gauge slightly below zero where nothing burns', () => {
    const off: Story = { seconds: 60, pressure: () => -0.05, signal: () => 0.02 };
    expect(words(off, 'gas', 2, 60)).toEqual(['shut']);
    expect(words(off, 'flame', 2, 60)).toEqual(['dark']);
  });
});

describe('a flame turned down a shoulder until a fifth of its signal is left', () => {
  // A detector of 0.6 s, seen while it lit. The hand rests after two seconds; the signal sags on as if it fell to dark with another lag.
  const sagging = (tau: number): Story => ({
    seconds: 60,
    pressure: (t) => (t < 30 ? openedAt10(t) : Math.max(2.6, 3 - 0.2 * (t - 30))),
    signal: (t) => (t < 30 ? litAt11(t) : towards(litAt11(t), 1.05, tau, t, 30)),
  });
  it.each([1, 1.4, 1.8, 2.2])('burns, however slowly it sags: to 1/e in %s s', (tau) => {
    const readings = readingsOf(sagging(tau)).flatMap((each) => {
      const later = { ...each, elapsedS: each.elapsedS + 0.1 };
      const { pressure, signal } = sagging(tau);
      const curve = each.role === 'flame_signal' ? signal : pressure;
      return [each, { ...later, value: curve(later.elapsedS)! + 0.002 }];
    });
    expect(alarmsOf(readings, 60)).toEqual(new Set());
    expect(wordsOf(readings, 'flame', 33, 59)).toEqual(['burning']);
  });
});

describe('a pressure that has come to rest', () => {
  it('is shut gas, not a valve on its way: 0.2 inH2O reached within a hundredth after 1.1 s', () => {
    const story: Story = {
      seconds: 60,
      pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 40)),
      signal: (t) => (t < 40.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40.3)),
    };
    expect(words(story, 'gas', 41.6, 60)).toEqual(['shut']);
  });
});

describe('a spark without a flame', () => {
  // A first flame from 11 s to 30 s; the second opening at 50 s sparks for ten seconds at 0.4 V, and nothing burns.
  const random = createRandom(3);
  const failed: Story = {
    seconds: 85,
    pressure: (t) => {
      if (t < 30) return openedAt10(t);
      if (t < 50) return towards(3, 0.2, 0.2, t, 30);
      return t < 75 ? towards(0.2, 3, 0.15, t, 50) : towards(3, 0.2, 0.2, t, 75);
    },
    signal: (t) => {
      if (t < 30.3) return litAt11(t);
      if (t > 50 && t < 60) return 0.4 + 0.06 * random.normal();
      return towards(5, 0.02, 0.6, t, 30.3);
    },
  };
  it('is dark, and nothing was lost', () => {
    expect(words(failed, 'flame', 52, 74)).toEqual(['dark']);
    expect(words(failed, 'flame', 77, 84)).toEqual(['dark']);
  });
  it('gives the alarm of unlit gas, not of a lost flame', () => {
    expect(alarmsOf(readingsOf(failed), 85)).toEqual(new Set(['gas-unlit']));
  });
});

describe('a shutter that closes for two tenths of a second', () => {
  const pulsing = (t: number) => {
    const since = t > 20 ? (t - 20) % 7 : 7;
    return since < 0.2 ? towards(5, 0.02, 0.3, since, 0) : towards(2.6, litAt11(t), 0.3, since, 0.2);
  };
  // Both meters read ten times a second here.
  const readings = readingsOf({ seconds: 120, pressure: openedAt10, signal: pulsing }).flatMap((each) => {
    const half = { ...each, elapsedS: each.elapsedS + 0.1 };
    return [each, each.role === 'flame_signal' ? { ...half, value: pulsing(half.elapsedS) } : half];
  });
  it('leaves a steady flame steady', () => {
    expect(wordsOf(readings, 'flame', 16, 119)).toEqual(['burning']);
  });
  it('gives no alarm', () => {
    expect(alarmsOf(readings, 120)).toEqual(new Set());
  });
});

describe('a signal meter that freezes just below its highest value', () => {
  it('is frozen: what clips repeats its very last digit, not one two hundredths below', () => {
    const readings = readingsOf({ seconds: 90, pressure: openedAt10, signal: litAt11 }).map((each) =>
      each.role === 'flame_signal' && each.elapsedS >= 40 ? { ...each, value: 4.985 } : each,
    );
    expect(wordsOf(readings, 'flame', 42, 89)).toEqual(['unknown']);
  });
  it('is frozen at its highest value too, where it dithered between that and the one below', () => {
    const meter = createMeterWatch();
    const random = createRandom(6);
    // Four readings a second; a minute of dither between 4.61 and 4.62 V, then one line again and again.
    for (let i = 0; i < 240; i += 1) meter.reading(i / 4, random.uniform() < 0.5 ? 4.61 : 4.62);
    expect(meter.trouble(60)).toBeUndefined();
    for (let i = 240; i < 240 + 4 * 75; i += 1) meter.reading(i / 4, 4.62);
    expect(meter.trouble(135)).toMatchObject({ kind: 'frozen' });
  });
  it.each([20, 180])('is frozen within a quarter of a minute, however still it was while dark: for %d s', (darkS) => {
    const meter = createMeterWatch();
    const random = createRandom(7);
    const read = (fromS: number, toS: number, value: () => number) => {
      for (let s = fromS; s < toS; s += 0.25) meter.reading(s, value());
    };
    read(0, darkS, () => 0.02);
    read(darkS, darkS + 60, () => Number((4.6 + 0.02 * random.normal()).toFixed(2)));
    expect(meter.trouble(darkS + 60)).toBeUndefined();
    read(darkS + 60, darkS + 75, () => 4.59);
    expect(meter.trouble(darkS + 75)).toMatchObject({ kind: 'frozen' });
  });
  it('is not frozen where a rising signal reaches the top of its amplifier and stays', () => {
    const meter = createMeterWatch();
    for (let i = 0; i < 100; i += 1) meter.reading(i / 4, Math.min(5, 0.06 * i + 0.001 * (i % 3)));
    for (let i = 100; i < 700; i += 1) meter.reading(i / 4, 5);
    expect(meter.trouble(175)).toBeUndefined();
  });
});

describe('a regulator at rest', () => {
  it('hunts by 0.4 % each way in six seconds', () => {
    const hunting = (t: number) => openedAt10(t) * (t < 14 ? 1 : 1 + 0.004 * Math.sin((2 * Math.PI * (t - 14)) / 6));
    expect(words({ seconds: 90, pressure: hunting, signal: litAt11 }, 'regulator', 20, 88)).toEqual(['at-rest']);
  });
  it('is at rest a second after the hand has stopped, although the gauge still creeps up with a lag of 0.4 s', () => {
    const step = (t: number) => (t < 30 ? openedAt10(t) : towards(3, 3.3, 0.4, t, 30));
    const story: Story = { seconds: 60, pressure: step, signal: litAt11 };
    expect(words(story, 'regulator', 31, 59)).toEqual(['at-rest']);
    const late = follow(readingsOf(story), 60).filter(({ now: { atS } }) => atS > 31.6 && atS < 58);
    expect(new Set(late.map(({ now }) => now.moment.regulator))).toEqual(new Set(['at-rest']));
  });
});

describe('a noisy signal meter', () => {
  // Normal noise of 0.25 V, a twentieth of the plateau, from the first reading on; gas shut at 0 inH2O, and no minimum signal below 1.3 V.
  it('shows no flame while gas is shut, not from its second second on', () => {
    const random = createRandom(5);
    const noisy = { seconds: 30, pressure: () => 0, signal: () => 0.1 + 0.25 * random.normal() };
    const known = { signalUnit: 'V', trialSeconds: 10, minimumSignal: 1.3 } as const;
    const told = follow(readingsOf(noisy), noisy.seconds, undefined, known).filter(({ now }) => now.atS > 2);
    expect(new Set(told.map(({ now }) => `${now.moment.gas} ${now.moment.flame}`))).toEqual(new Set(['shut dark']));
    expect(told.find(({ alarm }) => alarm)).toBeUndefined();
  });
});
