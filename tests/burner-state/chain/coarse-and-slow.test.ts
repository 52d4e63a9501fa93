import { describe, expect, it } from 'vitest';
import type { Reading, Role } from '../../../shared/model/reading.ts';
import { follow, towards } from '../story.ts';

/** Readings of both meters, each at its own interval in seconds and not at the same moments. */
function readings(seconds: number, meters: Record<'pilot_pressure' | 'flame_signal', [number, (t: number) => number]>) {
  const found: Reading[] = [];
  const add = (role: Role, unit: Reading['unit'], [intervalS, at]: [number, (t: number) => number]) => {
    const first = role === 'pilot_pressure' ? 0 : 0.2 * intervalS;
    for (let t = first; t < seconds; t += intervalS) found.push({ role, unit, elapsedS: t, value: at(t), raw: '' });
  };
  add('pilot_pressure', 'inH2O', meters.pilot_pressure);
  add('flame_signal', 'V', meters.flame_signal);
  return found.toSorted((a, b) => a.elapsedS - b.elapsedS);
}

describe('gas that is shut again behind a manometer of steps of 0.05 inH2O', () => {
  // The recording begins with the pilot burning at 3 inH2O, until gas is shut at 30 s. Shut, it stands at 0.22 inH2O as entered: 0.20, and every ten seconds 0.25 in every
  // other one of eight readings.
  const shown = (t: number) => (t % 10 < 0.8 && Math.round(t * 10) % 2 === 0 ? 0.25 : 0.2);
  const gas = (t: number) => towards(3, 0.22, 0.15, t, 30);
  const toStep = (value: number) => Math.round(value / 0.05) * 0.05;
  const told = follow(
    readings(120, {
      pilot_pressure: [0.1, (t) => (Math.abs(gas(t) - 0.22) < 0.02 ? shown(t) : toStep(gas(t)))],
      flame_signal: [0.2, (t) => toStep(towards(9, 0.15, 0.5, t, 30.2))],
    }),
    120,
    undefined,
    { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.22 },
  );

  it('is shut for as long as it stands, and nothing sounds', () => {
    expect(told.find(({ alarm }) => alarm)).toBeUndefined();
    const after = told.filter(({ now }) => now.atS > 33);
    expect(new Set(after.map(({ now }) => now.moment.gas))).toEqual(new Set(['shut']));
  });
});

describe('gas that is shut again behind a manometer that reads every two seconds', () => {
  // Nobody entered the fan-only pressure. The fan runs up from 4 s on to 0.3 inH2O; gas from 40 s to 100 s at 2.4 inH2O, lit at 41 s.
  const gas = (t: number) => {
    if (t < 40) return towards(0, 0.3, 6, t, 4);
    return t < 100 ? towards(0.3, 2.4, 0.15, t, 40) : towards(2.4, 0.3, 0.15, t, 100);
  };
  const wiggle = (t: number) => 0.004 * Math.cos(2.1 * t);
  const told = follow(
    readings(200, {
      pilot_pressure: [2, (t) => gas(t) + wiggle(t)],
      flame_signal: [
        2,
        (t) => (t < 100.2 ? towards(0.03, 5, 0.6, t, 41) : towards(5, 0.03, 0.6, t, 100.2)) + 5 * wiggle(t),
      ],
    }),
    200,
  );

  it('is shut, for it stands where it stood before it came on', () => {
    expect(told.find(({ alarm }) => alarm)).toBeUndefined();
    const after = told.filter(({ now }) => now.atS > 106 && now.atS < 199);
    expect(new Set(after.map(({ now }) => now.moment.gas))).toEqual(new Set(['shut']));
  });
});
