import { describe, expect, it } from 'vitest';
import { rememberSure, type SteadyMemory, steadyWord } from '../../../shared/burner-state/trials/steady-word.ts';
import { trialWords } from '../../../shared/burner-state/trials/trial-words.ts';
import type { FlameState, GasState } from '../../../shared/model/burner-words.ts';

type Word = { gas: GasState; flame: FlameState; alarm?: object };
const word = (gas: GasState, flame: FlameState, alarm?: object): Word => ({ gas, flame, ...(alarm && { alarm }) });
const unlit = word('flowing', 'dark');
const gasDoubt = word('unknown', 'dark');
const flameDoubt = word('flowing', 'unknown');

/** Titles of a trial of 10 s with the spark at 5 s, each tenth of a second, as often as it is given; `startS`: when the first is said. */
function titles(startS: number, ...parts: [seconds: number, Word | undefined][]): string[] {
  let memory: SteadyMemory | undefined;
  let step = Math.round(10 * startS);
  return parts.flatMap(([seconds, said]) =>
    Array.from({ length: Math.round(10 * seconds) }, () => {
      const nowS = step / 10;
      step += 1;
      memory = rememberSure(memory, said, nowS);
      // A second look at the same moment changes nothing: the page may look as often as it likes.
      expect(rememberSure(memory, said, nowS)).toBe(memory);
      const burner = steadyWord(memory, said, nowS);
      return trialWords({ elapsedS: nowS, sparkDelayS: 5, trialSeconds: 10, sawGas: true, burner }).title;
    }),
  );
}
/** The titles one after the other, each once. */
const changes = (said: string[]): string[] => said.filter((title, i) => title !== said[i - 1]);

describe('what is said of a running trial while the readings are unclear for some tenths of a second', () => {
  it('goes on as before, and tells the time all the same', () => {
    const said = titles(
      1,
      [1, unlit],
      [0.5, gasDoubt],
      [1, unlit],
      [0.9, word('unknown', 'unknown')],
      [0.3, unlit],
      [0.9, flameDoubt], // 4.7 s to 5.6 s: the spark is due meanwhile
      [0.4, word('flowing', 'lighting')],
      [0.5, flameDoubt],
      [2, word('flowing', 'burning')],
      [0.4, flameDoubt],
    );
    expect(changes(said)).toEqual(['Gas on, no spark yet', 'Spark now', 'Lit and held']);
  });
  it('is the doubt itself from the second on that it lasts', () => {
    for (const [doubt, title] of [
      [gasDoubt, 'Unknown: look'],
      [flameDoubt, 'Gas on: look'],
    ] as const) {
      const said = titles(0, [1, unlit], [2, doubt]);
      expect(changes(said)).toEqual(['Gas on, no spark yet', title]);
      expect(said.indexOf(title)).toBe(20);
    }
  });
  it('is a danger at once: a lost flame, an alarm, gas unlit beyond the time, also in the middle of a doubt', () => {
    const burning = word('flowing', 'burning');
    const danger = 'Gas off. Full purge.';
    expect(titles(1, [1, burning], [0.3, flameDoubt], [0.1, word('flowing', 'lost')]).at(-1)).toBe(danger);
    expect(titles(1, [1, burning], [0.1, word('flowing', 'unknown', { kind: 'flame-lost' })]).at(-1)).toBe(danger);
    expect(titles(9, [0.8, unlit], [0.3, gasDoubt]).at(-1)).toBe(danger);
    expect(titles(9, [0.8, unlit], [0.3, flameDoubt]).at(-1)).toBe(danger);
  });
  it('is shut gas at once, whatever the flame is', () =>
    expect(titles(1, [1, unlit], [0.1, word('closing', 'unknown')]).at(-1)).toBe('Gas shut'));
  it('is unknown at once where nobody says anything, or nothing was known before', () => {
    expect(titles(1, [1, unlit], [0.1, undefined]).at(-1)).toBe('Unknown: look');
    expect(titles(1, [0.1, gasDoubt]).at(-1)).toBe('Unknown: look');
    expect(titles(1, [1, unlit], [0.1, undefined], [0.1, gasDoubt]).at(-1)).toBe('Unknown: look');
  });
});
