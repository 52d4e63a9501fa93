import { describe, expect, it } from 'vitest';
import { type AlarmMemory, nextAlarm, noAlarm } from '../../shared/burner-state/alarms.ts';
import { initialLevels } from '../../shared/burner-state/chain/levels.ts';
import type { Moment } from '../../shared/burner-state/chain/label.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';
import { at, follow, litAt11, openedAt10, readingsOf, type Story, towards } from './story.ts';

const burning: Moment = { gas: 'flowing', flame: 'burning', regulator: 'at-rest', probability: 1 };

/** The alarm step by step, a tenth of a second each, where the tracker says with these probabilities that the flame was lost, and that nothing burns. */
function alarmsFor(lost: readonly number[], dark = lost, shut = 0): (string | undefined)[] {
  let memory: AlarmMemory = noAlarm;
  return lost.map((probability, i) => {
    const nowS = 20 + i / 10;
    const now: BurnerNow = {
      atS: nowS - 0.8,
      moment: burning,
      phase: 'held',
      latest: burning,
      lost: probability,
      unlit: probability,
      shut,
      dark: dark[i]!,
      burned: true,
      pressureTrouble: undefined,
      signalTrouble: undefined,
      levels: initialLevels('V', undefined, undefined),
    };
    memory = nextAlarm(memory, { nowS, now, trialSeconds: 10, valveOpen: undefined });
    return memory.alarm && `${memory.alarm.kind}${memory.alarm.gasUnseen ? ', gas not seen' : ''}`;
  });
}

describe('the alarm of a lost flame', () => {
  it('is not raised while a self-check or a gust explains the signal almost as well', () => {
    expect(alarmsFor([0, 0.4, 0.93, 0.95, 0.94, 0.5, 0.1])).toEqual(Array(7).fill(undefined));
  });
  it('is raised by the first step that leaves hardly a doubt', () => {
    expect(alarmsFor([0, 0.93, 0.985])).toEqual([undefined, undefined, 'flame-lost']);
  });
  it('is raised where a little doubt stays for six tenths of a second, as of a signal that is left over; a gust is over by then', () => {
    const gust = [0, 0.96, 0.96, 0.97, 0.97, 0.96, 0.96, 0.5];
    expect(alarmsFor(gust)).toEqual(gust.map(() => undefined));
    expect(alarmsFor(Array<number>(8).fill(0.96))).toEqual([
      ...Array<undefined>(6).fill(undefined),
      ...Array<string>(2).fill('flame-lost'),
    ]);
  });
  it('is raised where hardly anybody doubts that nothing burns, and gas that was shut is one in sixteen', () => {
    expect(alarmsFor([0, 0.94], [0, 0.99])).toEqual([undefined, 'flame-lost']);
    expect(alarmsFor([0, 0.85], [0, 0.99])).toEqual([undefined, undefined]);
  });
  it('is raised, gas not being seen, where nothing burns and gas is more likely to flow than shut for longer than a valve takes', () => {
    const steps = [0, ...Array<number>(50).fill(0.6)];
    const dark = steps.map((lost) => (lost > 0 ? 0.99 : 0));
    const alarms = alarmsFor(steps, dark, 0.3);
    // From 20.1 - 0.8 s on, by more than four seconds.
    expect(alarms.indexOf('flame-lost, gas not seen')).toBe(34);
    expect(new Set(alarms.slice(34))).toEqual(new Set(['flame-lost, gas not seen']));
    expect(new Set(alarmsFor(steps, dark, 0.6))).toEqual(new Set([undefined]));
  });
});

it('gas that an alarm could not see is seen once the manometer shows it flow, and only then', () => {
  const raised: AlarmMemory = { ...noAlarm, gasOn: true, alarm: { kind: 'flame-lost', sinceS: 19, gasUnseen: true } };
  const after = (unlit: number, gas: BurnerNow['latest']['gas']) => {
    const latest: Moment = { ...burning, gas, flame: 'lost' };
    const now: BurnerNow = {
      atS: 19.2,
      moment: latest,
      phase: 'held',
      latest,
      lost: unlit,
      unlit,
      shut: 0,
      dark: 0.99,
      burned: true,
      pressureTrouble: undefined,
      signalTrouble: undefined,
      levels: initialLevels('V', undefined, undefined),
    };
    return nextAlarm(raised, { nowS: 20, now, trialSeconds: 10, valveOpen: undefined }).alarm;
  };
  expect(after(0.95, 'flowing')).toEqual({ kind: 'flame-lost', sinceS: 19 });
  expect(after(0.5, 'unknown')).toMatchObject({ gasUnseen: true });
});

describe('the alarm of gas that does not light', () => {
  it('comes at the end of the trial, although a hand turns meanwhile', () => {
    const at = (unlit: number, shut: number, atS: number): BurnerNow => ({
      atS,
      moment: { ...burning, flame: 'dark' },
      phase: 'trial',
      latest: { ...burning, flame: 'dark' },
      lost: 0,
      unlit,
      shut,
      dark: 0.99,
      burned: false,
      pressureTrouble: undefined,
      signalTrouble: undefined,
      levels: initialLevels('V', undefined, undefined),
    });
    /** When the alarm comes, seconds after gas, where `unlit` and `shut` are as probable as this from 3 s to `doubtToS` after it. */
    const alarmAt = (doubtToS: number, unlit: number, shut: number) => {
      let memory: AlarmMemory = noAlarm;
      for (let tenth = 0; tenth < 300; tenth += 1) {
        const afterS = tenth / 10;
        const now = afterS >= 3 && afterS < doubtToS ? at(unlit, shut, afterS) : at(0.99, 0.01, afterS);
        memory = nextAlarm(memory, { nowS: afterS, now, trialSeconds: 10, valveOpen: undefined });
        if (memory.alarm) return afterS;
      }
      return undefined;
    };
    expect(alarmAt(3, 0.7, 0.2)).toBe(10.1);
    expect(alarmAt(8, 0.7, 0.2)).toBe(10.1);
    // Not while gas may have been shut since, and anew once it was likely to be.
    expect(alarmAt(12, 0.7, 0.2)).toBe(12);
    expect(alarmAt(8, 0.3, 0.6)).toBe(18.1);
  });
});

// Burns from 11 s, goes out at 30 s over flowing gas, is back at 34 s; gas is shut at 50 s.
it('a flame that was said to be back is not said to be lost again as gas is shut', () => {
  const story: Story = {
    seconds: 60,
    pressure: (t) => (t < 50 ? openedAt10(t) : towards(3, 0.2, 0.3, t, 50)),
    signal: (t) => {
      if (t < 30) return litAt11(t);
      if (t < 34) return towards(5, 0.02, 0.6, t, 30);
      return t < 50.3 ? towards(0.03, 5, 0.6, t, 34) : towards(5, 0.02, 0.6, t, 50.3);
    },
  };
  const told = follow(readingsOf(story), 60);
  expect(at(told, 33).raised).not.toHaveProperty('unlitToS');
  expect(at(told, 45).raised).toHaveProperty('unlitToS');
  for (const { nowS, alarm, raised } of told)
    if (nowS > 45 && alarm) expect(raised, `${nowS}`).toHaveProperty('unlitToS');
  expect(at(told, 59).alarm).toBeUndefined();
});
