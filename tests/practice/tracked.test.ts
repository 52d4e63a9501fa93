import { describe, expect, it } from 'vitest';
import { alarmKinds } from '../../shared/burner-state/alarms.ts';
import type { Known } from '../../shared/burner-state/chain/bins.ts';
import { follow, type Live } from '../burner-state/story.ts';
import { type Deeds, playBench } from './bench-story.ts';

/** What the technician has entered for a practice burner. */
const known: Known = { signalUnit: 'V', minimumSignal: 1.25, fanOnly: 0.2, trialSeconds: 10 };
const short = { settings: { prepurgeS: 15, postpurgeS: 5 } };

/** The tracker on the bench's own readings; `wired` tells it whether the valve is energized, as the third meter does. */
function tracked(
  seconds: number,
  deeds: Deeds,
  { scenario = 'clean', seed = 11, wired = false, hasControl = true } = {},
): Live[] {
  const { readings, states } = playBench({ scenario, seed, hasControl }, seconds, deeds);
  const valveOpen = (nowS: number) => (wired ? states[Math.floor(nowS * 10)]?.pilotValve : undefined);
  return follow(readings, seconds - 1, valveOpen, known);
}
const alarmsIn = (told: readonly Live[]) => alarmKinds.filter((kind) => told.some(({ alarm }) => alarm === kind));
const firstAlarmS = (told: readonly Live[]) => told.find(({ alarm }) => alarm)?.nowS;
const at = (told: readonly Live[], s: number) => told.find(({ nowS }) => nowS >= s)!;

describe('on the practice bench the program gives an alarm', () => {
  it('for a flame that was lost while a jumper held the valve open, until gas is shut', () => {
    const told = tracked(120, [[0, { jumpered: true }], [40, { blowOff: true }], [100, { callForHeat: false }]]); // prettier-ignore
    expect(alarmsIn(told)).toEqual(['flame-lost']);
    expect(firstAlarmS(told)).toBeGreaterThan(40);
    // Detector (0.15 s and 0.8 s) and meter (0.1 s) lag by a second; then the signal has to fall.
    expect(firstAlarmS(told)).toBeLessThan(44);
    expect(at(told, 99).alarm).toBe('flame-lost');
    expect(at(told, 110).alarm).toBeUndefined();
  });
  it('for a flame lost by hand, without a control', () => {
    const told = tracked(90, [[40, { blowOff: true }]], { hasControl: false }); // prettier-ignore
    expect(alarmsIn(told)).toEqual(['flame-lost']);
    expect(at(told, 89).alarm).toBe('flame-lost');
  });
  it('for a valve that is stuck open, where the valve is wired', () => {
    const told = tracked(70, [[20, { valve: 'stuck-open' }], [40, { callForHeat: false }]], { wired: true }); // prettier-ignore
    expect(alarmsIn(told)).toEqual(['not-shut']);
    // Gas that flows is no purge, whatever the control counts.
    expect(at(told, 65).now.moment.gas).toBe('flowing');
    expect(firstAlarmS(told)).toBeGreaterThan(43);
    expect(firstAlarmS(told)).toBeLessThan(47);
  });
  it('for a valve that is stuck open under a flame that goes out, wired or not', () => {
    const deeds: Deeds = [[20, { valve: 'stuck-open' }], [40, { callForHeat: false }], [60, { blowOff: true }]]; // prettier-ignore
    for (const wired of [true, false]) expect(at(tracked(80, deeds, { wired }), 70).alarm).toBeDefined();
  });
  it('for a valve that leaks after the shutdown, where the fan-only pressure was entered', () => {
    const deeds: Deeds = [[20, { valve: 'leaking' }], [40, { callForHeat: false }]]; // prettier-ignore
    for (const wired of [true, false]) expect(at(tracked(70, deeds, { wired }), 50).alarm).toBeDefined();
  });
  it('for gas by hand that is not lit within the trial', () => {
    const told = tracked(60, [[15, { pilotValve: false }], [30, { pilotValve: true }]], { hasControl: false }); // prettier-ignore
    expect(alarmsIn(told)).toEqual(['gas-unlit']);
    expect(firstAlarmS(told)).toBeGreaterThan(40);
    expect(firstAlarmS(told)).toBeLessThan(43);
  });
});

describe('on the practice bench the program gives no alarm', () => {
  // Off at 40 s; postpurge to 45 s, prepurge to 60 s, trial, held, and off again at 130 s.
  const cycle: Deeds = [
    [0, short],
    [40, { callForHeat: false }],
    [42, { callForHeat: true }],
    [130, { callForHeat: false }],
  ];
  it.each([
    ['clean', 11],
    ['clean', 12],
    ['self-check', 13],
    ['self-check', 14],
    ['noisy', 15],
  ] as const)('in a whole cycle of a sound burner: %s, seed %i', (scenario, seed) => {
    for (const wired of [true, false]) {
      const told = tracked(160, cycle, { scenario, seed, wired });
      expect(alarmsIn(told)).toEqual([]);
      expect(at(told, 56).now.moment).toMatchObject({ gas: 'shut' });
      expect(['burning', 'unsteady']).toContain(at(told, 100).now.moment.flame);
      expect(at(told, 155).now.moment).toMatchObject({ gas: 'shut', flame: 'out' });
    }
  });
  it('in a trial with the spark held back by half of it', () => {
    const delayed = { settings: { ...short.settings, sparkDelayS: 5 } };
    expect(alarmsIn(tracked(120, [[0, delayed], [40, { callForHeat: false }], [42, { callForHeat: true }]]))).toEqual([]); // prettier-ignore
  });
  it('by a meter that is dead or frozen: then it says that it does not know', () => {
    const dead = tracked(60, [[40, { multimeter: 'dead' }]]);
    expect(alarmsIn(dead)).toEqual([]);
    expect(at(dead, 55).now).toMatchObject({ moment: { flame: 'unknown' }, signalTrouble: { kind: 'silent' } });
    const frozen = tracked(80, [[40, { manometer: 'frozen' }], [60, { callForHeat: false }]]); // prettier-ignore
    expect(at(frozen, 75).now).toMatchObject({ moment: { gas: 'unknown' }, pressureTrouble: { kind: 'frozen' } });
  });
});
