import { describe, expect, it } from 'vitest';
import type { MeasuredTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import { formatPurge } from '../../../shared/model/format.ts';
import { purgeShortfall, trialEntry } from '../../../shared/burner-state/trials/trial-entry.ts';

/** Gas at 10 s, proved at 12.5 s, as the meters show it. */
const measured: MeasuredTrial = {
  gasS: 10,
  provedS: 12.5,
  steepest: 2.8,
  rise: 2.8,
  pressureBefore: 0.2,
  pressure: 3,
  pressureAfter: 0.21,
  unit: 'inH2O',
  lit: true,
  isSparkWired: false,
};
const first = { needed: false, purgedS: 0, waitedS: 0 };
const unstated = { announcedDelayS: undefined, sparksWithGas: false, purge: first, purgeSeconds: 60 };

describe('the entry of a trial that the meters showed', () => {
  it('has what they measured, and no spark where nobody knows when it came', () => {
    expect(trialEntry(measured, unstated)).toEqual({
      pressure: 3,
      unit: 'inH2O',
      lit: true,
      timeToProveS: 2.5,
      elapsedS: 10,
      knownBy: 'meters',
      pressureBefore: 0.2,
      pressureAfter: 0.21,
      note: 'No purge before it is on record.',
    });
  });
  it('is plain where the technician has stated for the visit that the control sparks with the gas', () => {
    expect(trialEntry(measured, { ...unstated, sparksWithGas: true })).toMatchObject({
      sparkDelayS: 0,
      timeToProveFromSparkS: 2.5,
    });
  });
  it('has the announced delay, whatever is stated for the visit', () => {
    const entry = trialEntry({ ...measured, provedS: 15.75 }, { ...unstated, sparksWithGas: true, announcedDelayS: 5 });
    expect(entry).toMatchObject({ sparkDelayS: 5, timeToProveS: 5.75, timeToProveFromSparkS: 0.75 });
  });
  it('has no time from a spark that would have come after the flame: the announced one was not kept', () => {
    const entry = trialEntry(measured, { ...unstated, announcedDelayS: 5 });
    expect(entry).not.toHaveProperty('sparkDelayS');
    expect(entry).not.toHaveProperty('timeToProveFromSparkS');
    expect(entry.note).toMatch(/announced/u);
  });
  it('has no time to prove where the signal meter was silent until then, and no announced spark that nobody saw kept', () => {
    const unseen = { ...measured, provedS: 15.75, isProofUnseen: true as const };
    const entry = trialEntry(unseen, { ...unstated, announcedDelayS: 5 });
    expect(entry.lit).toBe(true);
    expect(entry).not.toHaveProperty('timeToProveS');
    expect(entry).not.toHaveProperty('sparkDelayS');
    expect(entry.note).toMatch(/silent/u);
    expect(trialEntry(unseen, { ...unstated, sparksWithGas: true })).toMatchObject({ sparkDelayS: 0 });
  });
  it('has none either where a slow manometer showed the gas only after the flame', () => {
    const late = { ...measured, provedS: 10, isGasShownLate: true as const };
    const entry = trialEntry(late, { ...unstated, announcedDelayS: 5 });
    expect(entry.lit).toBe(true);
    expect(entry).not.toHaveProperty('timeToProveS');
    expect(entry).not.toHaveProperty('sparkDelayS');
    expect(entry.note).toMatch(/manometer showed the gas only after the flame/u);
  });
  it('has the spark of a wired channel, whatever was announced or stated', () => {
    const wired = { ...measured, isSparkWired: true, sparkS: 11 };
    const entry = trialEntry(wired, { ...unstated, sparksWithGas: true, announcedDelayS: 5 });
    expect(entry).toMatchObject({ sparkDelayS: 1, timeToProveFromSparkS: 1.5 });
    // Wired, and no spark was seen: nobody knows what lit it.
    expect(trialEntry({ ...measured, isSparkWired: true }, { ...unstated, sparksWithGas: true })).not.toHaveProperty(
      'sparkDelayS',
    );
  });
  it('that did not light has no time to prove, also where a flame came after the trial', () => {
    const entry = trialEntry({ ...measured, provedS: 22, lit: false }, { ...unstated, sparksWithGas: true });
    expect(entry).toMatchObject({ lit: false, sparkDelayS: 0 });
    expect(entry).not.toHaveProperty('timeToProveS');
    expect(entry).not.toHaveProperty('timeToProveFromSparkS');
  });
  it('has the real seconds of purge before it and what showed its air', () => {
    const purge = { needed: true, purgedS: 71.26, waitedS: 4, by: 'air' } as const;
    const entry = trialEntry(measured, { ...unstated, purge });
    expect(entry).toMatchObject({ purgeS: 71.3, purgeBy: 'air' });
    expect(entry).not.toHaveProperty('note');
  });
  it('reports a purge that was too short, and one of which only a wait is known', () => {
    const short = { needed: true, purgedS: 23.2, waitedS: 0, by: 'confirmed' } as const;
    expect(trialEntry(measured, { ...unstated, purge: short })).toMatchObject({
      purgeS: 23.2,
      purgeBy: 'confirmed',
      note: 'Purge shortened: 23 s of 60 s.',
    });
    expect(purgeShortfall({ needed: true, purgedS: 0, waitedS: 65 }, 60)).toBe(
      'Purge shortened: 0 s of 60 s. Waited 65 s without known air.',
    );
    expect(purgeShortfall({ needed: true, purgedS: 60, waitedS: 0, by: 'air' }, 60)).toBeUndefined();
    expect(purgeShortfall(first, 60)).toBeUndefined();
  });

  it('has the purge before the first gas where a full one was seen, and calls no part of one a purge', () => {
    const full = { needed: false, purgedS: 61, waitedS: 0, by: 'air' } as const;
    expect(trialEntry(measured, { ...unstated, purge: full })).toMatchObject({ purgeS: 61, purgeBy: 'air' });
    // The recording began in the middle of the control's own purge.
    const part = trialEntry(measured, { ...unstated, purge: { ...full, purgedS: 20 } });
    expect(part).not.toHaveProperty('purgeS');
    expect(part.note).toBe('No purge before it is on record.');
  });

  it('gives a shortened purge one number, in its entry and in its note', () => {
    for (const purgedS of [0.96, 4.999, 23.25]) {
      const purge = { needed: true, purgedS, waitedS: 0, by: 'air' as const };
      const { purgeS, note } = trialEntry(measured, { ...unstated, purge });
      expect(note).toBe(`Purge shortened: ${formatPurge(purgeS!)} of 60 s.`);
    }
  });
});
