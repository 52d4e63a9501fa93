import { describe, expect, it } from 'vitest';
import { recognizeTrials } from '../../../shared/burner-state/trials/recognize-trials.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { run } from '../../benchmark/burner-state/judge-visit.ts';
import { captureOf, readingsOf, towards } from '../story.ts';

/**
 * Two trials of 10 s: gas at 10 s, flame from 12 s with 0.6 s lag to 5 V, shut at 20 s; gas at 60 s, no flame, shut at 70 s.
 * By hand: 4 V is reached 0.6 s x ln 5 = 0.97 s after the flame began, at 12.97 s.
 */
const pressure = (t: number) => {
  if (t < 20) return towards(0.2, 3, 0.15, t, 10);
  if (t < 60) return towards(3, 0.2, 0.2, t, 20);
  return t < 70 ? towards(0.2, 3, 0.15, t, 60) : towards(3, 0.2, 0.2, t, 70);
};
const signal = (t: number) => (t < 20.2 ? towards(0.02, 5, 0.6, t, 12) : towards(5, 0.02, 0.6, t, 20.2));
const readings = readingsOf({ seconds: 100, pressure, signal });
const spark: Reading[] = [0, 11, 14].map((elapsedS, k) => ({
  role: 'ignition',
  unit: 'on',
  elapsedS,
  value: k === 1 ? 1 : 0,
  raw: '',
})) as unknown as Reading[];
const find = (list: Reading[]) =>
  recognizeTrials(trackCapture(captureOf(list), {}).spans, list, {
    provingSignal: 4,
    trialSeconds: 10,
    burningPressure: 3,
  });

describe('trials recognized from the meters', () => {
  const found = find(readings);
  it('are two, lit and not lit', () => {
    expect(found.map(({ lit }) => lit)).toEqual([true, false]);
  });
  it('begin with the gas, within one reading of the manometer (0.2 s)', () => {
    expect(Math.abs(found[0]!.gasS - 10)).toBeLessThanOrEqual(0.2 + 1e-6);
    expect(Math.abs(found[1]!.gasS - 60)).toBeLessThanOrEqual(0.2 + 1e-6);
  });
  it('prove the flame 2.97 s after the gas, within one reading of each meter (0.4 s)', () => {
    expect(Math.abs(found[0]!.provedS! - found[0]!.gasS - 2.97)).toBeLessThanOrEqual(0.4);
    expect(found[1]!.provedS).toBeUndefined();
  });
  it('measure the pressure before, while it flowed and after', () => {
    const { pressureBefore, pressure: flowing, pressureAfter } = found[0]!;
    for (const [measured, true_] of [
      [pressureBefore, 0.2],
      [flowing, 3],
      [pressureAfter, 0.2],
    ] as const)
      expect(Math.abs(measured! - true_)).toBeLessThanOrEqual(0.02);
  });
  it('prove it 1.97 s after a spark that is wired, within one reading of the signal meter (0.2 s)', () => {
    const [first] = find([...readings, ...spark]);
    expect(first!.sparkS).toBe(11);
    expect(Math.abs(first!.provedS! - first!.sparkS! - 1.97)).toBeLessThanOrEqual(0.2);
  });
});

// The purge is broken off a tenth of a second before the gas: what the visit was in changes, the gas does not.
it('a trial is measured from gas shut, whatever phase that time belonged to', () => {
  const { spans } = trackCapture(captureOf(readings), {});
  const split = spans.flatMap((span) =>
    span.gas === 'shut' && span.to_s < 11 && span.to_s > 9
      ? [
          { ...span, to_s: span.to_s - 0.1, phase: 'purge' as const },
          { ...span, from_s: span.to_s - 0.1 },
        ]
      : [span],
  );
  expect(split.length).toBeGreaterThan(spans.length);
  // A manometer that gives one reading a second has none within that tenth.
  const slow = readings.filter(({ role, elapsedS }) => role !== 'pilot_pressure' || (elapsedS + 0.85) % 1 < 0.1);
  const [first] = recognizeTrials(split, slow, { provingSignal: 4, trialSeconds: 10, burningPressure: 3 });
  expect(Math.abs(first!.gasS - 10)).toBeLessThanOrEqual(1 + 1e-6);
  expect(first!.pressureBefore).toBeCloseTo(0.2, 1);
});

it('no trial is invented where the hose is put back on the manometer after the flame has burned for seconds', () => {
  // The hose is off from 8 s until the pilot has burned for five; the manometer shows the open air.
  const off = readings.map((each) =>
    each.role === 'pilot_pressure' && each.elapsedS > 8 && each.elapsedS < 17 ? { ...each, value: 0 } : each,
  );
  const found = find(off);
  expect(found.filter(({ gasS }) => gasS > 15 && gasS < 19)).toEqual([]);
  expect(found.some(({ gasS }) => Math.abs(gasS - 60) <= 0.2 + 1e-6)).toBe(true);
});

it('a trial behind a manometer whose zero has shifted is one, though its gas was never said to be shut', () => {
  const shifted = readings.map((reading) =>
    reading.role === 'pilot_pressure' && reading.elapsedS > 17
      ? { ...reading, value: reading.value + 0.12, raw: '' }
      : reading,
  );
  const capture = captureOf(shifted);
  const { spans } = trackCapture(capture, {});
  const told = spans.map((span) =>
    span.gas === 'shut' && span.from_s > 15 && span.from_s < 60
      ? { ...span, gas: 'flowing' as const, flame: 'lost' as const }
      : span,
  );
  const list = recognizeTrials(told, shifted, { provingSignal: 4, trialSeconds: 10, burningPressure: 3 });
  expect(list.map(({ gasS }) => Math.round(gasS))).toEqual([10, 60]);
});

it('no trial is invented while a burning pilot is turned up and down', () => {
  const swept = readingsOf({ seconds: 100, pressure: (t) => 2.5 + Math.sin(t / 8), signal: () => 5 });
  expect(find(swept)).toEqual([]);
});

// The valve sticks half way at 1.5 inH2O from 10 to 13.4 s, then opens to 4 at once; lit a second later.
it('a trial whose valve sticks half way is one', () => {
  const sticky = readingsOf({
    seconds: 40,
    pressure: (t) => (t < 13.4 ? towards(0.11, 1.5, 0.2, t, 10) : towards(1.48, 4, 0.3, t, 13.4)),
    signal: (t) => towards(0.1, 5, 0.5, t, 14.4),
  });
  const found = find(sticky);
  expect(found).toHaveLength(1);
  expect(Math.abs(found[0]!.gasS - 10)).toBeLessThanOrEqual(0.2 + 1e-6);
});

// Truth of the visits drawn: when the valve was opened, and when the signal came to half of the plateau.
it.each([
  // The manometer reads twice a second, and for 1.6 s nobody could say whether gas came on.
  ['slow valve', 2434],
  // The fan drifts by some thousandths in the second before.
  ['fan off before the start', 2433],
])('the time to prove is right within one interval of the meters: %s, %d', (kind, seed) => {
  const { trials } = run({ kind, seed });
  expect([trials.provedJudged, trials.provedWrongAt]).toEqual([4, []]);
});
