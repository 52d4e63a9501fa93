import { describe, expect, it } from 'vitest';
import { held } from '../held-pilot.ts';
import { flameStates, gasStates } from '../../../shared/model/burner-words.ts';
import type { BurnerView } from '../../../shared/contract/api.ts';
import {
  flameWord,
  gasWord,
  isBelowMinimum,
  isProvedNow,
  meterProblem,
  pressureWord,
  signalWord,
} from '../../../renderer/ui/visit/live-words.ts';
import type { LatestReading } from '../../../renderer/state/live/latest-readings.ts';

/*
 * What can happen at the burner: gas shut while the fan keeps a pressure in range; a flame lost with the gas on, the pressure still in
 * range; an alarm; a meter silent, frozen or without a number, its last number still in range; nobody has said anything yet.
 */
const refusal = { settingRefusal: { code: 'no-flame', message: '' } };
const alarm = { alarm: { kind: 'flame-lost' as const, forS: 3, message: '' } };
const reading = <U>(value: number, unit: U, more = {}): LatestReading<U> => ({
  value,
  unit,
  flag: undefined,
  ageMs: 100,
  stale: false,
  port: 'p',
  ...more,
});
const range = { low: 1.5, high: 4 };
const pressureAt = (value: number, burner: BurnerView | undefined, more = {}) =>
  pressureWord(reading(value, 'inH2O' as const, more), burner, value, range);
const signalAt = (value: number, burner: BurnerView | undefined, more = {}) =>
  signalWord(reading(value, 'V' as const, more), burner, value, 1.25);

describe('the state line beside the live numbers', () => {
  it('never calls a flame steady whose signal is below the minimum, and calls nothing else weak', () => {
    for (const flame of flameStates) {
      expect(flameWord({ gas: 'flowing', flame }, true).word === 'Flame steady').toBe(false);
      expect(flameWord({ gas: 'flowing', flame }, true).tone === 'good').toBe(false);
      expect(flameWord({ gas: 'flowing', flame }, true).word === 'Signal weak').toBe(flame === 'burning');
    }
    expect(flameWord({ gas: 'flowing', flame: 'burning' }, false)).toMatchObject({
      word: 'Flame steady',
      tone: 'good',
    });
    // Gas is shut and the signal is not dark: no flame of this pilot, unless the meter says nothing of now.
    const bright = { gas: 'shut', flame: 'unknown' } as const;
    expect(flameWord(bright, false)).toMatchObject({ word: 'Signal without gas', tone: 'warning' });
    expect(flameWord({ ...bright, signalTrouble: { kind: 'silent', forS: 3 } }, false).word).toBe('Flame: unknown');
  });

  it('asks whether it is air, while gas that is told to be shut stands above the fan-only pressure', () => {
    expect(gasWord({ gas: 'shut' })).toMatchObject({ word: 'Gas shut', tone: 'plain' });
    expect(gasWord({ gas: 'shut', moreAir: true })).toMatchObject({ word: 'Gas shut, more air?', tone: 'warning' });
    for (const gas of gasStates) expect(gasWord({ gas }).word).toMatch(/^Gas/);
  });
  it('judges the signal that is shown, in the unit of the limit, and no old one', () => {
    expect(isBelowMinimum(reading(1240, 'mV' as const), 'V', 1.25)).toBe(true);
    expect(isBelowMinimum(reading(1260, 'mV' as const), 'V', 1.25)).toBe(false);
    expect(isBelowMinimum(reading(0.1, 'V' as const, { stale: true }), 'V', 1.25)).toBe(false);
    expect(isBelowMinimum(reading(0.1, 'V' as const), 'V', undefined)).toBe(false);
    expect(isBelowMinimum(undefined, 'V', 1.25)).toBe(false);
  });
});

describe('the words beside the live numbers', () => {
  it('are good only while gas flows and a flame burns steadily, in every combination of the two', () => {
    for (const gas of gasStates)
      for (const flame of flameStates) {
        const burner = { ...held, gas, flame };
        const proved = gas === 'flowing' && flame === 'burning';
        expect([gas, flame, pressureAt(2, burner)?.tone === 'good']).toEqual([gas, flame, proved]);
        expect([gas, flame, signalAt(4, burner)?.tone === 'good']).toEqual([gas, flame, proved]);
      }
  });

  it('are never good under an alarm, while setting is refused, and before anybody has said what the burner does', () => {
    for (const burner of [{ ...held, ...alarm }, { ...held, ...refusal }, undefined]) {
      expect(isProvedNow(burner)).toBe(false);
      expect(pressureAt(2, burner)).toBeUndefined();
      expect(signalAt(4, burner)).toBeUndefined();
    }
    expect(isProvedNow(held)).toBe(true);
  });

  it('say that a pressure or a signal is outside its limits while a flame burns, steadily or not', () => {
    for (const flame of ['burning', 'unsteady'] as const) {
      expect(pressureAt(1.4, { ...held, flame })).toEqual({ tone: 'warning', word: 'Below range' });
      expect(pressureAt(4.1, { ...held, flame })).toEqual({ tone: 'warning', word: 'Above range' });
      expect(signalAt(1, { ...held, flame })).toEqual({ tone: 'warning', word: 'Below minimum' });
    }
    // Below range is no news while gas is shut.
    expect(pressureAt(0.2, { ...held, gas: 'shut', flame: 'out' })).toBeUndefined();
  });

  it('say that a meter is silent and since when, before anything else', () => {
    expect(pressureAt(2, held, { stale: true, ageMs: 12_400 })).toEqual({
      tone: 'bad',
      word: 'No reading for 12 s',
      isBlank: true,
    });
    expect(signalAt(4, held, { stale: true, ageMs: 125_000 })?.word).toBe('No reading for 2 min 5 s');
    expect(meterProblem(undefined, undefined)?.word).toBe('No meter');
    // The host calls a meter silent before the page does.
    const silent = { ...held, pressureTrouble: { kind: 'silent' as const, forS: 3.2 } };
    expect(pressureAt(2, silent)).toEqual({ tone: 'bad', word: 'No reading for 3 s', isBlank: true });
    // One that never gave a reading has been silent since nobody knows when.
    expect(pressureAt(2, { ...held, pressureTrouble: { kind: 'silent', forS: 0 } })?.word).toBe('No reading');
  });

  it('say that a meter repeats one number, or sends none, instead of calling it in range', () => {
    const frozen = { kind: 'frozen' as const, forS: 31 };
    expect(pressureAt(2, { ...held, pressureTrouble: frozen })?.word).toBe('Frozen for 31 s');
    expect(signalAt(4, { ...held, signalTrouble: frozen })?.word).toBe('Frozen for 31 s');
    expect(signalAt(Number.NaN, held, { flag: 'overload' })?.word).toBe('Overload');
    const noNumber = { kind: 'no-number' as const, forS: 5 };
    expect(signalAt(4, { ...held, signalTrouble: noNumber })).toEqual({
      tone: 'bad',
      word: 'No number for 5 s',
      isBlank: true,
    });
  });

  it('say of one meter nothing good while the other is in trouble', () => {
    // The host refuses the setting then, and the state that needs the meter is unknown.
    const blind: BurnerView = {
      ...held,
      gas: 'unknown',
      pressureTrouble: { kind: 'silent', forS: 9 },
      settingRefusal: { code: 'meter-no-reading', message: '' },
    };
    expect(signalAt(4, blind)).toBeUndefined();
  });
});
