import { describe, expect, it } from 'vitest';
import type { FlameState, GasState } from '../../../shared/model/burner-words.ts';
import { gasOnWords, mustShutGas, trialWords } from '../../../shared/burner-state/trials/trial-words.ts';

/** A trial of 10 s with the spark at 5 s, its gas seen. */
const kindAt = (elapsedS: number, gas: GasState, flame: FlameState, change: object = {}) =>
  trialWords({ elapsedS, sparkDelayS: 5, trialSeconds: 10, sawGas: true, burner: { gas, flame }, ...change }).kind;

describe('the words of a running trial', () => {
  it.each([
    [1, 'gas-first'],
    [5, 'spark-now'],
    [7.5, 'spark'],
    [10, 'danger'],
    [60, 'danger'],
  ] as const)('with gas on and no flame at %s s: %s', (elapsedS, kind) =>
    expect(kindAt(elapsedS, 'flowing', 'dark')).toBe(kind),
  );
  it('never call a trial over, nor ask for gas off, while the flame burns, however late it is', () => {
    for (const elapsedS of [0.5, 6, 10, 11, 300])
      for (const flame of ['burning', 'unsteady'] as const) {
        expect(kindAt(elapsedS, 'flowing', flame)).toBe('lit');
        const { title, detail } = trialWords({
          elapsedS,
          sparkDelayS: 0,
          trialSeconds: 10,
          sawGas: true,
          burner: { gas: 'flowing', flame },
        });
        expect(`${title} ${detail}`).not.toMatch(/over|off|shut/iu);
      }
  });
  it('call no flame held whose signal is below the minimum, until the trial is over', () => {
    for (const flame of ['burning', 'unsteady'] as const) {
      expect(kindAt(4, 'flowing', flame, { isBelowMinimum: true })).toBe('gas-on');
      expect(kindAt(4, 'flowing', flame, { isBelowMinimum: false })).toBe('lit');
      // A flame that was proved in time and dips later is no reason to call for anything.
      expect(kindAt(12, 'flowing', flame, { isBelowMinimum: true })).toBe('lit');
    }
    expect(kindAt(4, 'flowing', 'dark', { isBelowMinimum: true })).toBe('gas-first');
  });
  it('say that gas is shut as soon as it is, also before the trial time is over', () => {
    for (const gas of ['closing', 'shut'] as const) expect(kindAt(4, gas, 'dark')).toBe('shut');
    expect(kindAt(20, 'shut', 'out')).toBe('shut');
  });
  it('wait for the gas of a trial that a button began, and never call that gas shut again', () =>
    expect(kindAt(1, 'shut', 'dark', { sawGas: false })).toBe('no-gas'));
  it('say gas off and full purge for gas without a flame beyond the trial time, for a lost flame, and for any alarm', () => {
    const words = trialWords({
      elapsedS: 10.1,
      sparkDelayS: 0,
      trialSeconds: 10,
      sawGas: true,
      burner: { gas: 'flowing', flame: 'dark' },
    });
    expect(`${words.title} ${words.detail}`).toMatch(/gas off.*full purge/iu);
    expect(kindAt(3, 'flowing', 'lost')).toBe('danger');
    // A flame that is still building up is not proved.
    expect(kindAt(10.1, 'flowing', 'lighting')).toBe('danger');
    const alarm = { kind: 'flame-lost' };
    expect(kindAt(3, 'flowing', 'burning', { burner: { gas: 'flowing', flame: 'burning', alarm } })).toBe('danger');
  });
  it('say that it is unknown, and to look, where gas or flame is not known or the host says nothing', () => {
    expect(kindAt(3, 'flowing', 'unknown')).toBe('unknown');
    expect(kindAt(3, 'unknown', 'dark')).toBe('unknown');
    expect(kindAt(30, 'unknown', 'unknown', { burner: undefined })).toBe('unknown');
    const { title, detail } = trialWords({
      elapsedS: 30,
      sparkDelayS: 0,
      trialSeconds: 10,
      sawGas: false,
      burner: undefined,
    });
    expect(title).toMatch(/unknown.*look/iu);
    expect(detail).toMatch(/no flame: gas off, full purge/iu);
  });
  it('say that gas is on where the manometer shows it and no meter shows the flame, and call it a danger after the time', () => {
    const { title } = trialWords({
      elapsedS: 3,
      sparkDelayS: 5,
      trialSeconds: 10,
      sawGas: true,
      burner: { gas: 'flowing', flame: 'unknown' },
    });
    expect(title).toMatch(/gas on.*look/iu);
    expect(kindAt(10.1, 'flowing', 'unknown')).toBe('danger');
  });
  it('ask for gas off at once where gas came on before the purge was over, until it is shut or a flame burns', () => {
    for (const flame of ['dark', 'lighting', 'unknown'] as const)
      expect(kindAt(1, 'flowing', flame, { tooEarly: true })).toBe('danger');
    expect(kindAt(1, 'flowing', 'burning', { tooEarly: true })).toBe('lit');
    expect(kindAt(1, 'shut', 'dark', { tooEarly: true })).toBe('shut');
  });
  it('ask for no spark in a plain trial, whose control sparks with the gas', () => {
    for (const elapsedS of [0, 0.1, 1.5, 1.9, 2.1, 9])
      for (const flame of ['dark', 'lighting'] as const)
        expect(kindAt(elapsedS, 'flowing', flame, { sparkDelayS: 0 })).toBe('spark');
    expect(kindAt(10, 'flowing', 'dark', { sparkDelayS: 0 })).toBe('danger');
  });
  it('ask for no spark over a flame that takes hold before it', () => {
    expect(kindAt(1, 'flowing', 'lighting')).toBe('gas-on');
    const early = { elapsedS: 1, sparkDelayS: 5, trialSeconds: 10, sawGas: true };
    expect(trialWords({ ...early, burner: { gas: 'flowing', flame: 'lighting' } }).detail).toMatch(/^No spark now\./u);
  });
  it('ask for no spark where nobody knows when it comes', () => {
    expect(kindAt(1, 'flowing', 'dark', { sparkDelayS: undefined })).toBe('gas-on');
    expect(kindAt(1, 'flowing', 'lighting', { sparkDelayS: undefined })).toBe('gas-on');
    expect(kindAt(10, 'flowing', 'dark', { sparkDelayS: undefined })).toBe('danger');
  });
});

describe('gas that is not shown shut when a trial is over', () => {
  const said = (gas: GasState, flame: FlameState, lastLit?: boolean) => gasOnWords({ gas, flame }, lastLit);
  it('is to be shut now after a trial that did not light, whatever the flame is taken for', () => {
    for (const gas of ['flowing', 'opening', 'unknown'] as const)
      for (const flame of ['dark', 'lighting', 'lost', 'unknown', 'burning'] as const)
        expect(said(gas, flame, false), `${gas}, ${flame}`).toMatchObject({
          kind: 'danger',
          title: 'Shut the gas now',
        });
  });
  it('is not said to be on while it is being shut, and nothing leads to another trial meanwhile', () => {
    for (const flame of ['dark', 'lighting', 'lost', 'unknown', 'burning'] as const) {
      const words = said('closing', flame, false);
      expect(words).toMatchObject({ kind: 'danger', title: 'Gas is shutting off' });
      expect(words.detail).not.toContain('is on');
    }
  });
  it('is to be shut now where nothing burns, whatever came before', () => {
    for (const lastLit of [true, undefined])
      for (const flame of ['dark', 'lighting', 'lost'] as const)
        expect(said('flowing', flame, lastLit).title).toBe('Shut the gas now');
    expect(said('flowing', 'unknown', true)).toMatchObject({ kind: 'danger', title: 'Gas on: look' });
    expect(said('unknown', 'unknown', true)).toMatchObject({ kind: 'danger' });
  });
  it('is to be shut now under any alarm, also where the flame is back or the gas is not seen', () => {
    const alarm = { message: 'Flame is back; gas was unlit for 8 s. Shut the gas now.' };
    for (const gas of ['flowing', 'unknown', 'shut'] as const) {
      expect(gasOnWords({ gas, flame: 'burning', alarm }, true)).toMatchObject({
        kind: 'danger',
        title: 'Shut the gas now',
      });
      expect(mustShutGas({ gas, flame: 'burning', alarm }, true)).toBe(true);
    }
  });
  it('is not to be shut as a trial begins with it, unless an alarm says so', () => {
    for (const lastLit of [true, false, undefined])
      for (const gas of ['opening', 'flowing', 'unknown'] as const) {
        const burner = { gas, flame: 'dark', trialGas: true } as const;
        expect(mustShutGas(burner, lastLit)).toBe(false);
        expect(gasOnWords(burner, lastLit).title).toBe('Gas comes on');
        expect(mustShutGas({ ...burner, alarm: { kind: 'gas-unlit' } }, lastLit)).toBe(true);
      }
  });
  it('leaves nothing else to say only as long as it is to be shut', () => {
    expect(mustShutGas({ gas: 'flowing', flame: 'dark' }, false)).toBe(true);
    expect(mustShutGas({ gas: 'flowing', flame: 'dark' }, undefined)).toBe(true);
    expect(mustShutGas({ gas: 'shut', flame: 'dark' }, false)).toBe(false);
    expect(mustShutGas({ gas: 'flowing', flame: 'burning' }, true)).toBe(false);
  });
  it('is no haste while the pilot that lit burns, or as the pressure falls after it', () => {
    expect(said('flowing', 'burning', true)).toMatchObject({ kind: 'purge', title: 'Gas is on' });
    expect(said('closing', 'dark', true)).toMatchObject({ kind: 'purge', title: 'Gas is shutting off' });
  });
});
