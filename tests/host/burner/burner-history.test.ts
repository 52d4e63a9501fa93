import { describe, expect, it } from 'vitest';
import { createBurnerHistory } from '../../../electron/host/burner/burner-history.ts';
import type { FlameState, GasState, RegulatorState } from '../../../shared/model/burner-words.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';

const moment = (gas: GasState, flame: FlameState, regulator: RegulatorState = 'at-rest'): BurnerNow['moment'] => ({
  gas,
  flame,
  regulator,
  probability: 1,
});
const shut = moment('shut', 'out');
const burning = moment('flowing', 'burning');

/** Tells `said` from second to second of capture 7, whose clock began at 1000 on that of the tracker, which speaks of 0.8 s ago. */
function told(
  said: { untilS: number; moment: BurnerNow['moment'] }[],
  recorded: { capture?: number } = { capture: 7 },
) {
  const history = createBurnerHistory();
  let at = 0;
  for (const { untilS, moment: then } of said)
    for (; at < untilS * 10; at += 1)
      history.add(
        { atS: 1000 + at / 10, moment: then } as BurnerNow,
        1000.8 + at / 10,
        recorded.capture,
        at / 10 + 0.8,
      );
  return history;
}

describe('what the burner did during a recording', () => {
  it('is kept in stretches on the clock of the capture, of the moments that were spoken of', () => {
    const history = told([
      { untilS: 5, moment: shut },
      { untilS: 9, moment: burning },
      { untilS: 12, moment: moment('flowing', 'lost') },
    ]);
    const [first, second, third, ...more] = history.stretches(7);
    expect([first!.kind, second!.kind, third!.kind]).toEqual(['shut', 'lit', 'lost']);
    // One step of a tenth of a second is the resolution.
    expect(Math.abs(second!.fromS - 5)).toBeLessThan(0.11);
    expect(Math.abs(third!.fromS - 9)).toBeLessThan(0.11);
    expect(Math.abs(third!.toS - 12)).toBeLessThan(0.11);
    expect(more).toEqual([]);
    expect(history.stretches(8)).toEqual([]);
  });

  it('says when a stretch begins, so that the windows hear of it, and not at each step', () => {
    const history = createBurnerHistory();
    const begins = [burning, burning, shut, shut, burning].map((then, i) =>
      history.add({ atS: 1000 + i / 10, moment: then } as BurnerNow, 1000.8 + i / 10, 7, 5 + i / 10),
    );
    expect(begins).toEqual([true, false, true, false, true]);
  });

  it('goes on over steps that come late, and knows nothing of a long silence', () => {
    const history = createBurnerHistory();
    for (const at of [1, 1.1, 2.9, 3, 9])
      history.add({ atS: 1000 + at, moment: burning } as BurnerNow, 1000.8 + at, 7, at + 0.8);
    const near = (value: number): unknown => expect.closeTo(value, 6);
    expect(history.stretches(7)).toEqual([
      { fromS: near(0.9), toS: near(3), kind: 'lit' },
      { fromS: near(3), toS: near(8.9), kind: 'unknown' },
      { fromS: near(8.9), toS: near(9), kind: 'lit' },
    ]);
  });

  it('begins anew with another capture, and is not kept without one', () => {
    const history = told([{ untilS: 5, moment: burning }]);
    history.add({ atS: 2000, moment: shut } as BurnerNow, 2000.8, 8, 3);
    expect(history.stretches(7)).toEqual([]);
    expect(history.stretches(8)).toHaveLength(1);
    expect(told([{ untilS: 5, moment: burning }], {}).stretches(7)).toEqual([]);
  });
});

describe('whether the regulator was turned', () => {
  const turning = moment('flowing', 'burning', 'turning-in');
  it('is known after a second of turning with a flame, and stays known', () => {
    expect(
      told([
        { untilS: 2, moment: burning },
        { untilS: 4, moment: turning },
        { untilS: 9, moment: burning },
      ]).isTurned(7),
    ).toBe(true);
  });
  it('is not said for the scatter of a manometer, nor for the pressure that comes with the gas', () => {
    const scatter = Array.from({ length: 20 }, (_, i) => ({ untilS: i / 2 + 0.5, moment: i % 2 ? turning : burning }));
    expect(told(scatter).isTurned(7)).toBe(false);
    expect(told([{ untilS: 4, moment: moment('opening', 'lighting', 'turning-in') }]).isTurned(7)).toBe(false);
  });
  it('is forgotten with another capture', () => {
    const history = told([{ untilS: 4, moment: turning }]);
    history.add({ atS: 2000, moment: burning } as BurnerNow, 2000.8, 8, 3);
    expect([history.isTurned(7), history.isTurned(8)]).toEqual([false, false]);
  });
});
