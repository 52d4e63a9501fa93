import { expect, it } from 'vitest';
import { shownState } from '../../shared/burner-state/shown-state.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';
import type { FlameState, GasState } from '../../shared/model/burner-words.ts';

const shown = (then: [GasState, FlameState], now: [GasState, FlameState], shut = 0.5) => {
  const of = ([gas, flame]: [GasState, FlameState]) => ({ gas, flame, regulator: 'at-rest', probability: 0.9 });
  const state = shownState({ moment: of(then), latest: of(now), shut } as unknown as BurnerNow);
  return [state.gas, state.flame];
};

/**
 * At the burner: gas comes on and the manometer shows it at once; it is shut; the flame lights; it goes out. The word of a second ago
 * would stand beside a numeral that says otherwise.
 */
it('what the newest readings show outweighs the word of a second ago where the two contradict each other', () => {
  expect(shown(['shut', 'dark'], ['flowing', 'dark'])).toEqual(['flowing', 'dark']);
  expect(shown(['shut', 'out'], ['opening', 'dark'])).toEqual(['opening', 'dark']);
  expect(shown(['flowing', 'burning'], ['flowing', 'lost'])).toEqual(['flowing', 'lost']);
  expect(shown(['flowing', 'unsteady'], ['flowing', 'dark'])).toEqual(['flowing', 'dark']);
});

it('what is not settled yet is said to be on its way', () => {
  expect(shown(['flowing', 'burning'], ['shut', 'out'])).toEqual(['closing', 'out']);
  expect(shown(['flowing', 'dark'], ['flowing', 'burning'])).toEqual(['flowing', 'lighting']);
});

it('gas is called shut no longer than that is probable', () => {
  expect(shown(['shut', 'dark'], ['unknown', 'dark'], 0.1)).toEqual(['opening', 'dark']);
  expect(shown(['shut', 'dark'], ['unknown', 'dark'], 0.6)).toEqual(['shut', 'dark']);
  expect(shown(['flowing', 'burning'], ['unknown', 'burning'], 0.6)).toEqual(['closing', 'burning']);
  expect(shown(['flowing', 'dark'], ['unknown', 'dark'], 0.1)).toEqual(['flowing', 'dark']);
});

it('gas that was just shut under a flame is closing, never unknown: nobody is told to shut it again', () => {
  expect(shown(['unknown', 'unknown'], ['shut', 'out'], 0.95)).toEqual(['closing', 'out']);
  expect(shown(['unknown', 'out'], ['closing', 'out'], 0.4)).toEqual(['closing', 'out']);
  expect(shown(['unknown', 'unknown'], ['shut', 'dark'], 0.95)).toEqual(['unknown', 'unknown']);
});

it('the word of a second ago stands where the newest readings leave it open or agree', () => {
  expect(shown(['flowing', 'burning'], ['unknown', 'unknown'], 0.1)).toEqual(['flowing', 'burning']);
  expect(shown(['flowing', 'unsteady'], ['flowing', 'burning'])).toEqual(['flowing', 'unsteady']);
  expect(shown(['unknown', 'unknown'], ['flowing', 'dark'])).toEqual(['unknown', 'unknown']);
});
