import { describe, expect, it } from 'vitest';
import { sequenceWords } from '../../../renderer/practice/sequence-words.ts';
import { controlStates, type ControlSettings } from '../../../shared/practice/control.ts';

const settings: ControlSettings = {
  prepurgeS: 30,
  trialS: 10,
  sparkDelayS: 0,
  flameFailureS: 4,
  postpurgeS: 15,
  onFlameFailure: 'lockout',
};
const withGas = ['pilot-trial', 'pilot-hold', 'run'];

describe('the words for the practice control', () => {
  it('are a word of its own for each state, and none by hand', () => {
    const words = controlStates.map(
      (sequence) => sequenceWords({ sequence, flame: false, valve: 'sound', settings })!.word,
    );
    expect(new Set(words).size).toBe(controlStates.length);
    expect(sequenceWords({ flame: true, valve: 'sound', settings })).toBeUndefined();
  });
  it.each(['pilot-hold', 'run'] as const)('are good in %s only while the flame burns', (sequence) => {
    expect(sequenceWords({ sequence, flame: true, valve: 'sound', settings })!.tone).toBe('good');
    const lost = sequenceWords({ sequence, flame: false, valve: 'sound', settings })!;
    expect(lost.tone).toBe('bad');
    expect(lost.next).toContain('stop the burner');
  });
  it.each(controlStates.filter((state) => !withGas.includes(state)))(
    'say in %s what the control has done, never that gas is shut, and name a stuck valve that feeds a flame',
    (sequence) => {
      // A valve that leaks or sticks without a flame looks from here like a sound one.
      for (const valve of ['sound', 'stuck-open', 'leaking'] as const) {
        const { next } = sequenceWords({ sequence, flame: false, valve, settings })!;
        expect(next).toMatch(/valve off/iu);
        expect(next).not.toMatch(/gas (is )?(shut|off)/iu);
      }
      const stuck = sequenceWords({ sequence, flame: true, valve: 'stuck-open', settings })!;
      expect(stuck).toMatchObject({ tone: 'bad', next: expect.stringContaining('stuck open') as string });
    },
  );
  it('say when the spark comes, where it is held back', () => {
    const trial = (sparkDelayS: number) =>
      sequenceWords({ sequence: 'pilot-trial', flame: false, valve: 'sound', settings: { ...settings, sparkDelayS } })!;
    expect(trial(0).next).toBe('Gas and spark on.');
    expect(trial(5).next).toContain('spark after 5 s');
  });
});
