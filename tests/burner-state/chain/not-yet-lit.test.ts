import { describe, expect, it } from 'vitest';
import type { Reading, Role } from '../../../shared/model/reading.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { at, follow, openedAt10, readingsOf, towards } from '../story.ts';

describe('a signal that rises and falls again before a flame has burned', () => {
  // Lit at 11 s with a plateau of 10 V. The detector looks through a shutter that closes `afterS` later for `closedS`; where the minimum is
  // 3 V the signal has passed it by then, so that the flame is proved, but it still builds up.
  it.each([
    { afterS: 0.2, closedS: 0.8, lagS: 0.9, minimumSignal: 4.4 },
    { afterS: 0.3, closedS: 0.8, lagS: 0.9, minimumSignal: 4.4 },
    { afterS: 0.5, closedS: 0.8, lagS: 0.9, minimumSignal: 4.4 },
    { afterS: 0.8, closedS: 0.7, lagS: 0.6, minimumSignal: 3 },
    { afterS: 1, closedS: 0.7, lagS: 0.6, minimumSignal: 3 },
    { afterS: 1.2, closedS: 0.7, lagS: 0.6, minimumSignal: 3 },
  ])(
    'raises no alarm where a self-check closes the shutter $afterS s after the flame, with a minimum of $minimumSignal V',
    ({ afterS, closedS, lagS, minimumSignal }) => {
      const seconds = 60;
      const [closesS, opensS] = [11 + afterS, 11 + afterS + closedS];
      const atClosing = towards(0.02, 10, lagS, closesS, 11);
      const atOpening = towards(atClosing, 0.02, lagS, opensS, closesS);
      const signal = (t: number) => {
        if (t < closesS) return towards(0.02, 10, lagS, t, 11);
        return t < opensS ? towards(atClosing, 0.02, lagS, t, closesS) : towards(atOpening, 10, lagS, t, opensS);
      };
      const readings = readingsOf({ seconds, pressure: openedAt10, signal });
      const told = follow(readings, seconds, undefined, { signalUnit: 'V', trialSeconds: 10, minimumSignal });
      expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
      expect(at(told, 30).now.moment.flame).toBe('burning');
    },
  );

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])(
    'is no lost flame where noise scatters over shut gas, run %d',
    (seed) => {
      const random = createRandom(seed);
      const readings: Reading[] = [];
      const add = (role: Role, unit: Reading['unit'], elapsedS: number, value: number) =>
        readings.push({ role, unit, elapsedS, value, raw: String(value) });
      // Ten readings of the signal a second, 0.4 V about 0.17 V, where a flame gives more than 3.2 V; five of the pressure.
      for (let i = 0; i < 600; i += 1) {
        if (i % 2 === 0) add('pilot_pressure', 'inH2O', i / 10, 0.26 + 0.012 * random.normal());
        add('flame_signal', 'V', i / 10 + 0.05, 0.17 + 0.4 * random.normal());
      }
      const told = follow(readings, 60, undefined, { signalUnit: 'V', trialSeconds: 10, minimumSignal: 3.2 });
      expect(told.filter(({ alarm }) => alarm === 'flame-lost')).toEqual([]);
    },
  );

  it('is told at the end of the trial for ignition at the latest, where gas flows on', () => {
    const seconds = 60;
    // A flame that shows a fifth of what it has to for a second, and is gone.
    const signal = (t: number) => (t < 12 ? towards(0.02, 1, 0.6, t, 11) : towards(0.83, 0.02, 0.6, t, 12));
    const told = follow(readingsOf({ seconds, pressure: openedAt10, signal }), seconds);
    const first = told.find(({ alarm }) => alarm !== undefined)!;
    expect(first.nowS).toBeLessThan(10 + 10 + 1.5);
  });

  it.each([1, 4])('sounds at once where the signal was above what proves a flame, lit for %d s', (burnsS) => {
    const seconds = 60;
    const lostS = 11 + burnsS;
    const atLoss = towards(0.02, 5, 0.6, lostS, 11);
    const signal = (t: number) => (t < lostS ? towards(0.02, 5, 0.6, t, 11) : towards(atLoss, 0.02, 0.6, t, lostS));
    const readings = readingsOf({ seconds, pressure: openedAt10, signal });
    const told = follow(readings, seconds, undefined, { signalUnit: 'V', trialSeconds: 10, minimumSignal: 2 });
    const first = told.find(({ alarm }) => alarm !== undefined)!;
    expect(first.alarm).toBe('flame-lost');
    expect(first.nowS).toBeLessThan(lostS + 2);
  });

  // Ten readings a second of a flame of 4 V that blows off again; the detector takes 0.12 s, and one to three of them come above the minimum of 2.5 V.
  it.each([0.2, 0.3])(
    'sounds at once where the pilot flashed up above the minimum and was gone after %s s',
    (burnsS) => {
      const readings: Reading[] = [];
      const add = (role: Role, unit: Reading['unit'], elapsedS: number, value: number) =>
        readings.push({ role, unit, elapsedS, value, raw: String(value) });
      const peak = towards(0.02, 4, 0.12, burnsS, 0);
      for (let i = 0; i < 300; i += 1) {
        const t = i / 10;
        const s = t - 10.4;
        add('pilot_pressure', 'inH2O', t + 0.04, openedAt10(t + 0.04));
        add('flame_signal', 'V', t, s < burnsS ? towards(0.02, 4, 0.12, s, 0) : towards(peak, 0.02, 0.12, s, burnsS));
      }
      const told = follow(readings, 30, undefined, { signalUnit: 'V', trialSeconds: 10, minimumSignal: 2.5 });
      const first = told.find(({ alarm }) => alarm !== undefined)!;
      expect(first.alarm).toBe('flame-lost');
      expect(first.nowS).toBeLessThan(10.4 + burnsS + 2.5);
    },
  );

  // Two readings a second: one of them above the minimum of 3 V, before the flame has blown off again, lit for 0.7 s.
  it.each([2.77, 2.4, 1.9])('sounds at once where a single reading proved it and the next was %s V', (next) => {
    const readings: Reading[] = [];
    const add = (role: Role, unit: Reading['unit'], elapsedS: number, value: number) =>
      readings.push({ role, unit, elapsedS, value, raw: String(value) });
    const after = [0.18, 3.16, next, 0.71 * next, 0.53 * next, 0.44 * next, 0.37 * next, 0.26 * next, 0.15 * next];
    for (let i = 0; i < 100; i += 1) {
      const t = i / 2;
      add('pilot_pressure', 'inH2O', t + 0.3, i < 20 ? 0.13 : i === 20 ? 1.38 : i === 21 ? 2.81 : 3 + 0.01 * (i % 3));
      add('flame_signal', 'V', t + 0.45, i < 20 ? 0.02 + 0.02 * (i % 2) : (after[i - 20] ?? 0.03));
    }
    const known = { signalUnit: 'V', trialSeconds: 10, minimumSignal: 3, fanOnly: 0.132 } as const;
    const first = follow(readings, 50, undefined, known).find(({ alarm }) => alarm !== undefined)!;
    expect(first.alarm).toBe('flame-lost');
    // Not only when the trial for ignition is over, at 20 s.
    expect(first.nowS).toBeLessThan(14.5);
  });
});
