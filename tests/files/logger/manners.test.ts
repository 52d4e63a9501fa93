import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import { readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../../shared/model/units.ts';
import { manners, type PlainRow } from './manners.ts';

/** Both columns at one time, then alternately; over midnight. */
const rows: PlainRow[] = Array.from({ length: 60 }, (_, i) => {
  const [t, p, s] = [i * 4.25, 1 + (i % 17) / 10, 0.05 + (i % 23) / 5].map((v) => Number(v.toFixed(3)));
  return i < 30 ? { t: t!, p: p!, s: s! } : i % 2 === 0 ? { t: t!, p: p! } : { t: t!, s: s! };
});

/** In mbar and V, from the definition of the rows. */
const wanted = (table: PlainRow[]) =>
  table.flatMap(({ t, p, s }) => [
    ...(p === undefined ? [] : [{ role: 'pilot_pressure', t: t - table[0]!.t, value: p }]),
    ...(s === undefined ? [] : [{ role: 'flame_signal', t: t - table[0]!.t, value: s }]),
  ]);
const inPlainUnits = (readings: Reading[]) =>
  readings.map(({ role, unit, elapsedS, value }) => ({
    role: role as string,
    t: elapsedS - readings[0]!.elapsedS,
    value:
      role === 'flame_signal'
        ? convertSignal(value, unit as SignalUnit, 'V')!
        : convertPressure(value, unit as PressureUnit, 'mbar'),
  }));

const takenOf = (bytes: Uint8Array): string => {
  const read = readLoggerFile({ file: 'f.txt', bytes });
  return read.ok ? read.value.logger!.taken : '';
};
/** Such as "as pilot pressure in mbar,as flame signal in V". */
const unitsTaken = (taken: string): string => (taken.match(/as [\w ]+? in \S+/gu) ?? []).join();

describe("a logger's file", () => {
  it('is written in at least twenty manners here', () => expect(manners.length).toBeGreaterThanOrEqual(20));

  it.each(manners)('gives the readings of the plain table: $title', ({ bytes }) => {
    const read = readLoggerFile({ file: 'f.txt', bytes: bytes(rows) });
    if (!read.ok) throw new Error(read.fault.message);
    const found = inPlainUnits(read.value.capture.readings);
    const truth = wanted(rows);
    expect(found.map(({ role }) => role)).toEqual(truth.map(({ role }) => role));
    for (const [i, { t, value }] of truth.entries()) {
      expect(Math.abs(found[i]!.t - t)).toBeLessThan(2e-6);
      expect(Math.abs(found[i]!.value - value)).toBeLessThan(1e-9);
    }
  });

  it('keeps the window of a sample capture within its interval, in every manner', () => {
    const plain = readWideCsv({ file: 'clean.csv', text: readFileSync('sample-captures/clean.csv', 'utf8') });
    if (!plain.ok) throw new Error(plain.fault.message);
    // To the millisecond of the clocks, and in mbar; a sample in inH2O stays the same pressure.
    const table = plain.value.capture.readings.map(({ role, elapsedS, value, unit }): PlainRow => {
      const t = Math.round(elapsedS * 1000) / 1000;
      return role === 'pilot_pressure'
        ? { t, p: Number(convertPressure(value, unit as PressureUnit, 'mbar').toFixed(4)) }
        : { t, s: value };
    });
    const before = analyze(plain.value.capture);
    if (!before.ok) throw new Error(before.fault.message);
    const analyzed = new Map<string, ReturnType<typeof analyze>>();
    for (const { title, bytes } of manners) {
      const read = readLoggerFile({ file: title, bytes: bytes(table) });
      if (!read.ok) throw new Error(read.fault.message);
      // The same readings are analyzed once.
      const key = JSON.stringify(
        inPlainUnits(read.value.capture.readings).map(({ t, value }) => [t.toFixed(3), value.toFixed(6)]),
      );
      const after = analyzed.get(key) ?? analyze(read.value.capture);
      analyzed.set(key, after);
      if (!after.ok) throw new Error(after.fault.message);
      for (const end of ['low', 'high'] as const) {
        const { ci } = before.value.result.window[end]!;
        const value = convertPressure(
          after.value.result.window[end]!.value,
          after.value.result.pressureUnit,
          before.value.result.pressureUnit,
        );
        expect(value, `${title}, ${end}`).toBeGreaterThanOrEqual(ci[0]);
        expect(value, `${title}, ${end}`).toBeLessThanOrEqual(ci[1]);
      }
    }
  });

  it('survives mutations without a crash, and never takes a number in a wrong unit', () => {
    const mutations = fc.array(
      fc.record({
        where: fc.double({ min: 0, max: 1, noNaN: true }),
        kind: fc.constantFrom('drop', 'set', 'double'),
        byte: fc.integer({ min: 0, max: 255 }),
      }),
      { minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(fc.constantFrom(...manners), mutations, ({ bytes }, changes) => {
        const mutated = Array.from(bytes(rows));
        for (const { where, kind, byte } of changes) {
          const index = Math.floor(where * (mutated.length - 1));
          mutated.splice(index, kind === 'double' ? 0 : 1, ...(kind === 'drop' ? [] : [byte]));
        }
        const read = readLoggerFile({ file: 'f.txt', bytes: Uint8Array.from(mutated) });
        if (!read.ok) {
          expect(read.fault.message).not.toBe('');
          return;
        }
        // A heading that lost a letter says another unit (bar for mbar), and the notice names it.
        if (unitsTaken(read.value.logger?.taken ?? '') !== unitsTaken(takenOf(bytes(rows)))) return;
        // Six bytes touch at most twelve rows: most numbers are still those of the table, in its units.
        const truth = {
          pilot_pressure: new Set(rows.map(({ p }) => p?.toFixed(6))),
          flame_signal: new Set(rows.map(({ s }) => s?.toFixed(6))),
        };
        for (const role of ['pilot_pressure', 'flame_signal'] as const) {
          const numbers = inPlainUnits(
            read.value.capture.readings.filter((reading) => reading.role === role && reading.flag === undefined),
          );
          const right = numbers.filter(({ value }) => truth[role].has(value.toFixed(6)));
          expect(right.length, JSON.stringify(read.value.notices)).toBeGreaterThanOrEqual(numbers.length - 12);
        }
      }),
      { numRuns: 1000, seed: 20261127 },
    );
  });
});
