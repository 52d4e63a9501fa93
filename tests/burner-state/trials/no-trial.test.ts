import { describe, expect, it } from 'vitest';
import { measureTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import { noTrialWords } from '../../../shared/burner-state/trials/no-trial.ts';
import type { Reading } from '../../../shared/model/reading.ts';

/** Pressures in inH2O by hand, at seconds; no flame unless `signal` says one. */
function trialOf(pressures: [number, number][], signal: [number, number][] = []) {
  const of = (role: string, unit: string, values: [number, number][]) =>
    values.map(([elapsedS, value]) => ({ role, unit, elapsedS, value, raw: '' })) as unknown as Reading[];
  const readings = [...of('pilot_pressure', 'inH2O', pressures), ...of('flame_signal', 'V', signal)];
  return measureTrial(readings, { fromS: 7, untilS: 17, provingSignal: 1.25, trialSeconds: 10 })!;
}
const valve: [number, number][] = [[8, 0.2], [10, 3], [12, 3], [13, 0.3], [14.5, 0.2], [16, 0.2]]; // prettier-ignore

describe('what is no trial', () => {
  it('is not a valve that opens to where the pilot burns, and shuts', () => {
    expect(noTrialWords(trialOf(valve), 'gas-shut', { burning: 3, fanOnly: undefined })).toBeUndefined();
    expect(noTrialWords(trialOf(valve), 'time-over', { burning: undefined, fanOnly: undefined })).toBeUndefined();
  });
  it('is a spark that is checked with the gas shut, however much signal it gives; a pilot on little gas is one', () => {
    const spark: [number, number][] = [[8, 0], [9, 0], [10, 3], [12, 3], [14, 0]]; // prettier-ignore
    const still = trialOf([[8, 0.2], [9, 0.2], [10, 0.21], [12, 0.2], [14, 0.21], [16, 0.2]], spark); // prettier-ignore
    expect(still.lit).toBe(true);
    expect(noTrialWords(still, 'time-over', { burning: 3, fanOnly: undefined })).toMatch('a signal without gas');
    const weak = trialOf([[8, 0.2], [9, 0.2], [10, 0.35], [12, 0.35], [14, 0.35], [16, 0.35]], spark); // prettier-ignore
    expect(noTrialWords(weak, 'time-over', { burning: 3, fanOnly: 0.2 })).toBeUndefined();
  });
  it('is a gauge that was tapped while the flame burned on, but not gas that was shut for longer, nor a flame that went out', () => {
    const burning: [number, number][] = [[7, 4.6], [8, 4.6], [9, 4.6], [10, 4.6], [12, 4.6], [15, 4.6]]; // prettier-ignore
    const words = (shutFromS: number, signal: [number, number][]) => {
      const pressures = Array.from({ length: 50 }, (_, i) => 7 + i / 5).map((t): [number, number] => [
        t,
        t >= shutFromS && t < 9 ? 0.2 : 3,
      ]);
      return noTrialWords(trialOf(pressures, signal), 'proved', { burning: 3, fanOnly: 0.2 });
    };
    expect(words(8.5, burning)).toMatch('the flame burned on');
    expect(words(7.5, burning)).toBeUndefined();
    const relit: [number, number][] = [[7, 4.6], [8, 4.6], [8.6, 2], [8.8, 0.5], [10, 3], [12, 4.6], [15, 4.6]]; // prettier-ignore
    expect(words(8.5, relit)).toBeUndefined();
  });
  it('is a fan that was started: from no pressure up to 0.36 inH2O, where it stays', () => {
    const fan = trialOf([[8, 0], [10, 0.1], [12, 0.31], [13, 0.36], [14.5, 0.36], [16, 0.36]]); // prettier-ignore
    expect(noTrialWords(fan, 'gas-shut', { burning: undefined, fanOnly: undefined })).toMatch('did not fall');
  });
  // Over six seconds a damper brings 0.4 to 1.0 inH2O, a fifth of it in the last second, as pressure goes with the square of the air. A
  // valve of the slow kind opens in two seconds, a damped gauge follows to 1/e in one: 40 % of the rise is in the steepest second.
  it('is a damper that opens for a purge, but not a slow valve behind a damped gauge, nor one whose pressure is turned up later', () => {
    const of = (pressureAt: (t: number) => number) =>
      trialOf(Array.from({ length: 40 }, (_, i) => [7 + i / 4, pressureAt(7 + i / 4)] as [number, number]));
    const words = (pressureAt: (t: number) => number) =>
      noTrialWords(of(pressureAt), 'time-over', { burning: 3, fanOnly: 0.4 });
    const done = (t: number, seconds: number) => Math.min(1, Math.max(0, (t - 9) / seconds));
    const air = (t: number) => (Math.sqrt(0.4) + (1 - Math.sqrt(0.4)) * done(t, 6)) ** 2;
    expect(words(air)).toMatch('more slowly than a valve');
    const ramp = (t: number) =>
      t < 9 ? 0 : t < 11 ? (t - 9 - (1 - Math.exp(-(t - 9)))) / 2 : 1 - 0.5 * (1 - Math.exp(-2)) * Math.exp(-(t - 11));
    expect(words((t) => 0.4 + 2 * ramp(t))).toBeUndefined();
    // A valve opens to 0.6 inH2O above the fan, and a hand turns that up by two more in five seconds: 23 % is in the steepest second.
    const turned = (t: number) => 0.4 + (t < 9 ? 0 : 0.6) + 2 * Math.min(1, Math.max(0, (t - 11) / 5));
    expect(words(turned)).toBeUndefined();
    // Two inH2O in four seconds are more than a damper lets through. And what rises from no pressure is no fan's air.
    const slow = (t: number) => 0.4 + 2 * done(t, 4);
    expect(words(slow)).toBeUndefined();
    expect(words((t) => air(t) - 0.35)).not.toMatch('more slowly');
  });
  // The pilot burned at 3 inH2O and gas stood shut at 0.2: an open valve raises the pressure by 2.8, a tenth of which is 0.28.
  it.each([
    [0.11, true],
    [0.27, true],
    [0.29, false],
  ])('is a rise of %d inH2O, less than a tenth of that of an open valve: %s', (rise, is) => {
    const up = trialOf([[8, 0.2], [9, 0.2], [10, 0.2 + rise], [12, 0.2 + rise], [14, 0.2 + rise], [16, 0.2 + rise]]); // prettier-ignore
    expect(noTrialWords(up, 'time-over', { burning: 3, fanOnly: undefined }) !== undefined).toBe(is);
    // Before any pilot has burned, a rise of 0.2 inH2O may be one.
    const unknown = noTrialWords(up, 'time-over', { burning: undefined, fanOnly: undefined });
    expect(unknown !== undefined).toBe(rise < 0.2);
  });
  it('is a fan that was started, over a zero that had shifted: up to less than a tenth above the fan-only pressure as entered', () => {
    const fan = trialOf([[8, 0.07], [9, 0.07], [10, 0.34], [12, 0.35], [14, 0.35], [16, 0.35]]); // prettier-ignore
    expect(noTrialWords(fan, 'time-over', { burning: 2.4, fanOnly: 0.28 })).toMatch('0.07 inH2O');
    expect(noTrialWords(fan, 'time-over', { burning: 2.4, fanOnly: undefined })).toBeUndefined();
  });
  it('is none where a flame was proved, however little the pressure rose', () => {
    const lit = trialOf([[8, 0.2], [9, 0.2], [10, 0.3], [12, 0.3], [14, 0.3], [16, 0.3]], [[8, 0], [9, 0], [11, 4], [13, 4]]); // prettier-ignore
    expect(lit.lit).toBe(true);
    expect(noTrialWords(lit, 'proved', { burning: 3, fanOnly: undefined })).toBeUndefined();
  });
});
