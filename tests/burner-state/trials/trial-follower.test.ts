import { describe, expect, it } from 'vitest';
import type { Moment } from '../../../shared/burner-state/chain/label.ts';
import { createTrialFollower } from '../../../shared/burner-state/trials/trial-follower.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';

const now = (atS: number, gas: Moment['gas'], flame: Moment['flame']): BurnerNow =>
  ({ atS, moment: { gas, flame, regulator: 'unknown', probability: 1 } }) as BurnerNow;
const follow = (...steps: [number, Moment['gas'], Moment['flame']][]) => {
  const follower = createTrialFollower();
  return steps.flatMap(([atS, gas, flame]) => follower.step(now(atS, gas, flame), 10) ?? []);
};

describe('trials recognized live', () => {
  it('begin with gas and end when the flame is proved', () => {
    const events = follow(
      [1, 'shut', 'dark'],
      [2, 'opening', 'dark'],
      [2.5, 'flowing', 'dark'],
      [3, 'flowing', 'lighting'],
      [4, 'flowing', 'burning'],
      [9, 'flowing', 'burning'],
    );
    expect(events).toEqual([
      { kind: 'gas-on', atS: 2 },
      { kind: 'over', fromS: -1, untilS: 4, why: 'proved' },
    ]);
  });
  it('end when gas is shut without a flame, or when the time is over', () => {
    const shutAt8 = follow([1, 'shut', 'dark'], [2, 'flowing', 'dark'], [8, 'closing', 'dark'], [8.6, 'shut', 'dark']);
    expect(shutAt8[1]).toMatchObject({ untilS: 8, why: 'gas-shut' });
    expect(
      follow([1, 'shut', 'dark'], [2, 'flowing', 'dark'], [12.4, 'flowing', 'dark'], [12.6, 'flowing', 'dark'])[1],
    ).toMatchObject({ untilS: 12.6, why: 'time-over' });
  });
  it('are not over by a flame that burns as soon as gas comes on', () => {
    const events = follow(
      [1, 'shut', 'dark'],
      [2, 'flowing', 'dark'],
      [2.1, 'flowing', 'burning'],
      [2.4, 'shut', 'out'],
    );
    expect(events.map(({ kind }) => kind)).toEqual(['gas-on', 'taken-back']);
    expect(follow([1, 'shut', 'dark'], [2, 'opening', 'lighting'], [2.6, 'flowing', 'burning'])[1]).toMatchObject({
      why: 'proved',
    });
  });
  it('are none where gas is called shut for two tenths of a second between doubts, and the flame burns on', () => {
    const doubted = follow(
      [1, 'flowing', 'burning'],
      [2, 'unknown', 'unknown'],
      [2.1, 'shut', 'out'],
      [2.2, 'shut', 'out'],
      [2.3, 'unknown', 'unknown'],
      [2.8, 'flowing', 'burning'],
      [3.4, 'flowing', 'burning'],
    );
    expect(doubted).toEqual([]);
  });
  it('go on where the valve had stuck half way and opens at once', () => {
    const events = follow(
      [1, 'shut', 'dark'],
      [2, 'opening', 'dark'],
      [4, 'flowing', 'dark'],
      [6, 'closing', 'dark'],
      [6.1, 'shut', 'dark'],
      [6.2, 'opening', 'dark'],
      [6.5, 'flowing', 'lighting'],
      [7.5, 'flowing', 'burning'],
      [7.6, 'flowing', 'burning'],
    );
    expect(events).toMatchObject([
      { kind: 'gas-on', atS: 2 },
      { kind: 'over', untilS: 7.5, why: 'proved' },
    ]);
  });
  it('are taken back where gas is shut again at once, and begun by the gas that then comes on', () => {
    const events = follow(
      [1, 'shut', 'dark'],
      [2, 'flowing', 'dark'],
      [2.2, 'shut', 'dark'],
      [2.7, 'opening', 'dark'],
      [4, 'flowing', 'burning'],
    );
    expect(events.map(({ kind }) => kind)).toEqual(['gas-on', 'taken-back', 'gas-on', 'over']);
    expect(events[2]).toMatchObject({ atS: 2.7 });
  });
  it('are not begun where another tracker takes over and knows that the gas was on all the time', () => {
    const follower = createTrialFollower();
    follower.step(now(5, 'shut', 'dark'), 10);
    follower.anotherTracker();
    expect(follower.step(now(5.1, 'flowing', 'dark'), 10)).toBeUndefined();
    follower.step(now(6, 'shut', 'dark'), 10);
    expect(follower.step(now(7, 'opening', 'dark'), 10)).toEqual({ kind: 'gas-on', atS: 7 });
  });
  it('are not begun by gas that a manometer shows on its return, for nobody saw it shut', () => {
    const follower = createTrialFollower();
    const trouble = { kind: 'silent', sinceS: 0 } as const;
    const steps = [
      { ...now(9, 'unknown', 'unknown'), pressureTrouble: trouble },
      // The moment of a second ago, in which nothing was read, in the light of what is read now.
      now(9.2, 'shut', 'out'),
      now(9.8, 'shut', 'out'),
      now(10, 'opening', 'dark'),
    ];
    expect(steps.map((step) => follower.step(step, 10))).toEqual(steps.map(() => undefined));
    // Shut gas that was seen is another thing.
    expect([now(12, 'shut', 'out'), now(13, 'opening', 'dark')].map((step) => follower.step(step, 10))[1]?.kind).toBe(
      'gas-on',
    );
  });
  it('are not seen in a flame that burned when watching began, was relit with gas on, or after a gap', () => {
    expect(follow([1, 'flowing', 'burning'], [2, 'flowing', 'lost'], [3, 'flowing', 'burning'])).toEqual([]);
    expect(follow([1, 'unknown', 'unknown'], [2, 'flowing', 'burning'])).toEqual([]);
  });
  it('are not seen where the manometer said nothing for a while: the gas may have come on at any time', () => {
    expect(follow([1, 'shut', 'dark'], [2, 'unknown', 'dark'], [60, 'flowing', 'dark'])).toEqual([]);
    // A tenth of a second between shut and opening of which nobody can say anything is no gap.
    expect(follow([1, 'shut', 'dark'], [1.1, 'unknown', 'dark'], [1.2, 'opening', 'dark'])).toHaveLength(1);
  });
  it('are not seen in a held flame that is lost while the manometer is away for a moment', () =>
    expect(
      follow([1, 'flowing', 'burning'], [2, 'unknown', 'unknown'], [3, 'shut', 'out'], [4, 'flowing', 'lost']),
    ).toEqual([]));
  describe('are about to begin', () => {
    /** After these moments, while the newest readings show `gas` and `flame`. */
    const isBeginning = (
      steps: [number, Moment['gas'], Moment['flame']][],
      latest: [Moment['gas'], Moment['flame']],
      more: Partial<BurnerNow> = {},
    ) => {
      const follower = createTrialFollower();
      const all = steps.map(([atS, gas, flame]) => ({
        ...now(atS, gas, flame),
        latest: { ...now(atS, ...latest).moment },
        ...more,
      }));
      for (const each of all) follower.step(each, 10);
      return follower.isBeginning(all.at(-1)!, 10);
    };
    it('as soon as the newest readings show gas that was shut a moment ago', () => {
      expect(isBeginning([[1, 'shut', 'dark']], ['opening', 'dark'])).toBe(true);
      expect(isBeginning([[1, 'shut', 'out']], ['flowing', 'dark'])).toBe(true);
      expect(
        isBeginning(
          [
            [1, 'shut', 'dark'],
            [1.5, 'unknown', 'dark'],
          ],
          ['flowing', 'dark'],
        ),
      ).toBe(true);
    });
    it('neither while gas is shut nor once the trial runs', () => {
      expect(isBeginning([[1, 'shut', 'dark']], ['shut', 'dark'])).toBe(false);
      expect(
        isBeginning(
          [
            [1, 'shut', 'dark'],
            [2, 'flowing', 'dark'],
          ],
          ['flowing', 'dark'],
        ),
      ).toBe(false);
    });
    it('not with gas that nobody saw come on, a flame that was lost, or a meter in trouble', () => {
      expect(isBeginning([[1, 'flowing', 'dark']], ['flowing', 'dark'])).toBe(false);
      expect(isBeginning([[1, 'unknown', 'dark']], ['flowing', 'dark'])).toBe(false);
      expect(
        isBeginning(
          [
            [1, 'shut', 'dark'],
            [4.1, 'unknown', 'dark'],
          ],
          ['flowing', 'dark'],
        ),
      ).toBe(false);
      expect(isBeginning([[1, 'shut', 'out']], ['flowing', 'lost'])).toBe(false);
      const signalTrouble = { kind: 'silent', sinceS: 0 } as const;
      expect(isBeginning([[1, 'shut', 'dark']], ['flowing', 'dark'], { signalTrouble })).toBe(false);
    });
  });
  it('begin anew only once gas was shut again', () => {
    const events = follow(
      [1, 'shut', 'dark'],
      [2, 'flowing', 'dark'],
      [13, 'flowing', 'dark'],
      [14, 'flowing', 'burning'],
      [20, 'closing', 'out'],
      [21, 'shut', 'out'],
      [89.9, 'shut', 'out'],
      [90, 'opening', 'dark'],
    );
    expect(events.filter(({ kind }) => kind === 'gas-on')).toHaveLength(2);
  });
  it('begin where gas comes on behind a valve that closed and leaks, not where a flame is lost in a sweep', () => {
    const gasOn = (...steps: Parameters<typeof follow>) =>
      follow([1, 'shut', 'dark'], [2, 'opening', 'dark'], [4, 'flowing', 'burning'], ...steps).filter(
        ({ kind }) => kind === 'gas-on',
      );
    const leaks = gasOn(
      [10, 'closing', 'out'],
      [11, 'closing', 'out'],
      [12, 'flowing', 'lost'],
      [40, 'opening', 'dark'],
    );
    expect(leaks).toMatchObject([{ atS: 2 }, { atS: 40 }]);
    // A pressure that falls for a tenth of a second as the flame is lost is no valve that closes.
    expect(gasOn([10, 'closing', 'out'], [10.1, 'flowing', 'lost'], [14, 'flowing', 'lighting'])).toHaveLength(1);
    expect(gasOn([10, 'flowing', 'unsteady'], [12, 'flowing', 'lost'], [40, 'opening', 'dark'])).toHaveLength(1);
    // It closed, and the flame burned again since.
    const burnedSince: Parameters<typeof follow> = [
      [9, 'closing', 'out'],
      [10, 'closing', 'out'],
      [11, 'flowing', 'burning'],
      [12, 'flowing', 'lost'],
      [40, 'opening', 'dark'],
    ];
    expect(gasOn(...burnedSince)).toHaveLength(1);
  });
});
