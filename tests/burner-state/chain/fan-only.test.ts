import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

describe('a flame that the regulator put out at a low pressure, nobody having entered the fan-only pressure', () => {
  // Gas stood shut at 0.2 inH2O. Turned down from 25 s on to the end of the spring at 0.8 inH2O; the flame goes out on the way, at 27 s.
  const turnedDown: Story = {
    seconds: 60,
    pressure: (t) => (t < 25 ? openedAt10(t) : towards(3, 0.8, 1.2, t, 25)),
    signal: (t) => (t < 27 ? litAt11(t) : towards(5, 0.02, 0.6, t, 27)),
  };
  const told = follow(readingsOf(turnedDown), turnedDown.seconds);

  it('is lost with gas on: it sounds within the four seconds that a valve may take to shut, until the end', () => {
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'flame-lost' });
    expect(told.find(({ alarm }) => alarm)!.nowS).toBeLessThanOrEqual(31);
    expect(told.at(-1)).toMatchObject({ alarm: 'flame-lost', now: { moment: { gas: 'flowing', flame: 'lost' } } });
  });
  it('is so with hindsight', () => {
    const { spans } = trackCapture(captureOf(readingsOf(turnedDown)), {});
    expect(spans.at(-1)).toMatchObject({ gas: 'flowing', flame: 'lost' });
  });
});

describe('a manometer whose zero has shifted by 0.11 inH2O since the fan-only pressure was entered', () => {
  // Entered as 0.2: the fan is off at first and runs up at 3 s, gas from 10 to 30 s and again from 45 s, each time lit after a second.
  const off = 0.11;
  const shut = (t: number) => towards(0, 0.2, 0.5, t, 3);
  const gas = (t: number) => {
    if (t < 10) return shut(t);
    if (t < 30) return openedAt10(t);
    return t < 45 ? towards(3, 0.2, 0.2, t, 30) : openedAt10(t - 35);
  };
  const flame = (t: number) => {
    if (t < 30.2) return litAt11(t);
    return t < 46 ? towards(5, 0.02, 0.6, t, 30.2) : litAt11(t - 35);
  };
  const story: Story = { seconds: 60, pressure: (t) => gas(t) + off, signal: flame };
  const readings = readingsOf(story);

  it('shows gas shut, and no alarm, once gas was seen to come on from there', () => {
    const known = { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.2 } as const;
    const told = follow(readings, story.seconds, undefined, known).filter(({ nowS }) => nowS > 15);
    expect(new Set(told.flatMap(({ alarm }) => alarm ?? []))).toEqual(new Set());
    const between = told.filter(({ now }) => now.atS > 33 && now.atS < 44.5);
    expect(new Set(between.map(({ now }) => now.moment.gas))).toEqual(new Set(['shut']));
  });
  it('shows it shut from the start with hindsight', () => {
    const setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const } };
    const { spans } = trackCapture(captureOf(readings), setup);
    const before = spans.filter(({ to_s }) => to_s < 9.5);
    expect(new Set(before.map(({ gas: state }) => state))).toEqual(new Set(['shut']));
  });
  it('is not believed of a leak: gas that goes on flowing at 0.11 inH2O above it after the valve was shut', () => {
    const leaks: Story = {
      seconds: 60,
      pressure: (t) => (t < 30 ? openedAt10(t) : towards(3, 0.31, 0.2, t, 30)),
      signal: (t) => (t < 30.2 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30.2)),
    };
    const known = { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.2 } as const;
    const told = follow(readingsOf(leaks), leaks.seconds, undefined, known);
    expect(told.at(-1)!.alarm).toBeDefined();
    expect(told.at(-1)!.now.moment.gas).not.toBe('shut');
  });
});

describe('a fan that runs faster once the gas was shut under the flame, nobody having entered the fan-only pressure', () => {
  // From 0.2 inH2O to a purge at high fire, with a time constant of 1.5 s, one and three seconds after the valve.
  it.each([
    [0.5, 31],
    [0.5, 33],
    [0.8, 33],
  ])('raises no alarm: to %d inH2O at %d s', (purge, at) => {
    const story: Story = {
      seconds: 70,
      pressure: (t) => (t < 30 ? openedAt10(t) : towards(2.8, 0, 0.2, t, 30) + towards(0.2, purge, 1.5, t, at)),
      signal: (t) => (t < 30.2 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30.2)),
    };
    expect(follow(readingsOf(story), story.seconds).find(({ alarm }) => alarm)).toBeUndefined();
  });
});
