import { describe, expect, it } from 'vitest';
import { alarmFault, settingRefusal } from '../../shared/burner-state/permissions.ts';
import { isPurgeSeen, nextPurgeClock, noPurge, purgeMissing } from '../../shared/burner-state/purge-clock.ts';
import type { Moment } from '../../shared/burner-state/chain/label.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';

const at = (gas: Moment['gas'], flame: Moment['flame'], more: Partial<BurnerNow> = {}): BurnerNow => {
  const moment: Moment = { gas, flame, regulator: 'at-rest', probability: 0.99 };
  return { atS: 0, moment, latest: moment, lost: 0, unlit: 0, phase: 'held', ...more } as BurnerNow;
};
const fan = { shown: true, confirmed: false };
const confirmed = { shown: undefined, confirmed: true };
const noAir = { shown: undefined, confirmed: false };
const after = (steps: [BurnerNow, typeof fan | typeof confirmed | typeof noAir, number][]) =>
  steps.reduce((clock, [now, air, seconds]) => nextPurgeClock(clock, now, air, seconds), noPurge);

describe('the purge clock', () => {
  it('counts air before the first gas too, and insists on nothing then', () => {
    const clock = after([
      [at('shut', 'dark'), noAir, 12],
      [at('shut', 'dark'), fan, 30],
    ]);
    expect(clock).toEqual({ needed: false, purgedS: 30, waitedS: 12, by: 'air' });
    expect(purgeMissing(clock, 60)).toBe(0);
    expect(isPurgeSeen(clock, 60)).toBe(false);
    expect(isPurgeSeen(nextPurgeClock(clock, at('shut', 'dark'), fan, 30), 60)).toBe(true);
    // Gas that comes on ends it: what was seen before it is no purge of the next trial.
    expect(nextPurgeClock(clock, at('opening', 'dark'), fan, 0.1)).toMatchObject({ needed: true, purgedS: 0 });
  });
  it('counts air that is shown while gas is shut and the signal is dark', () => {
    const clock = after([
      [at('flowing', 'burning'), fan, 10],
      [at('closing', 'out'), fan, 1],
      [at('shut', 'out'), fan, 25],
    ]);
    expect(clock).toEqual({ needed: true, purgedS: 25, waitedS: 0, by: 'air' });
    expect(purgeMissing(clock, 60)).toBe(35);
  });
  it('calls it a wait while nobody knows of air, and counts from the confirmation on', () => {
    const clock = after([
      [at('flowing', 'lost'), noAir, 1],
      [at('shut', 'out'), noAir, 40],
      [at('shut', 'out'), confirmed, 60],
    ]);
    expect(clock).toEqual({ needed: true, purgedS: 60, waitedS: 40, by: 'confirmed' });
    expect(purgeMissing(clock, 60)).toBe(0);
  });
  it('starts over once air has stopped for two seconds, also after it was long enough', () => {
    const purged: Parameters<typeof after>[0] = [
      [at('flowing', 'burning'), fan, 1],
      [at('shut', 'out'), fan, 70],
    ];
    const stopped = { shown: false, confirmed: true };
    const wavers = after([...purged, [at('shut', 'out'), stopped, 1], [at('shut', 'out'), fan, 1]]);
    expect(wavers).toEqual({ needed: true, purgedS: 71, waitedS: 1, by: 'air' });
    const broken = after([...purged, [at('shut', 'out'), stopped, 1], [at('shut', 'out'), stopped, 1]]);
    expect(broken).toMatchObject({ needed: true, purgedS: 0, waitedS: 2 });
    expect(purgeMissing(broken, 60)).toBe(60);
    const again = nextPurgeClock(broken, at('shut', 'out'), fan, 5);
    expect(again).toEqual({ needed: true, purgedS: 5, waitedS: 2, by: 'air' });
  });
  it('does not count while the pilot burns, and starts anew when gas is opened early', () => {
    const burning = after([[at('flowing', 'burning'), fan, 100]]);
    expect(purgeMissing(burning, 60)).toBe(60);
    const early = after([
      [at('flowing', 'burning'), fan, 1],
      [at('shut', 'out'), fan, 50],
      [at('opening', 'dark'), fan, 0.1],
      [at('shut', 'dark'), fan, 20],
    ]);
    expect(early.purgedS).toBe(20);
  });
  it('counts nothing that cannot be known', () => {
    const clock = after([
      [at('flowing', 'burning'), fan, 1],
      [at('unknown', 'unknown'), fan, 50],
      [at('shut', 'unknown'), fan, 50],
    ]);
    expect(clock.purgedS).toBe(0);
  });
  it('believes a wired fan that stands still more than a confirmation', () => {
    const clock = after([
      [at('flowing', 'burning'), fan, 1],
      [at('shut', 'out'), { shown: false, confirmed: true }, 50],
    ]);
    expect(clock).toMatchObject({ purgedS: 0, waitedS: 50 });
  });
});

describe('setting the pressure, and taking as-left', () => {
  const refused = (now: BurnerNow | undefined) => settingRefusal({ now, alarm: undefined })?.code;
  it('is offered only while gas flows and a flame burns steadily', () => {
    expect(refused(at('flowing', 'burning'))).toBeUndefined();
    expect(refused(at('shut', 'dark'))).toBe('gas-shut');
    expect(refused(at('shut', 'out'))).toBe('gas-shut');
    expect(refused(at('flowing', 'lighting'))).toBe('no-flame');
    expect(refused(at('flowing', 'lost'))).toBe('no-flame');
    expect(refused(at('flowing', 'unsteady'))).toBe('flame-unsteady');
    expect(refused(at('unknown', 'unknown'))).toBe('burner-unknown');
    expect(refused(undefined)).toBe('burner-unknown');
  });
  it('is not offered under an alarm, even when the flame came back', () => {
    expect(settingRefusal({ now: at('flowing', 'burning'), alarm: { kind: 'flame-lost', sinceS: 1 } })?.code).toBe(
      'flame-lost',
    );
  });
  it('says of each alarm what to do first: shut the gas', () => {
    for (const [kind, code] of [
      ['flame-lost', 'flame-lost'],
      ['gas-unlit', 'gas-unlit'],
      ['not-shut', 'gas-not-shut'],
    ] as const) {
      const { code: found, message } = alarmFault({ kind, sinceS: 1 });
      expect(found).toBe(code);
      expect(message).toMatch(/Shut the gas/);
    }
  });
  it('is not offered with a meter that has gone silent', () => {
    const now = at('flowing', 'burning', { pressureTrouble: { kind: 'silent', sinceS: 1 } });
    expect(refused(now)).toBe('meter-no-reading');
  });
  it('is withdrawn as soon as the flame of this moment is gone', () => {
    const now = at('flowing', 'burning');
    expect(refused({ ...now, latest: { ...now.latest, flame: 'lost' } })).toBe('no-flame');
  });
});
