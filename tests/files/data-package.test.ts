import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  pathsInPackage,
  readDataPackage,
  readZip,
  writeDataPackage,
  writeZip,
} from '../../shared/files/data-package.ts';
import { type Capture, markKinds } from '../../shared/model/capture.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';

const roundTrip = (capture: Capture): Capture => {
  const entries = readZip(writeZip(writeDataPackage(capture)), 'visit.zip');
  if (!entries.ok) throw new Error(entries.fault.message);
  const read = readDataPackage({ file: 'visit.zip', entries: entries.value });
  if (!read.ok) throw new Error(read.fault.message);
  expect(read.value.notices).toEqual([]);
  return read.value.capture;
};

describe('a data package', () => {
  it('gives back a whole visit as it was', () => {
    const { capture } = simulateVisit('clean', 3);
    expect(roundTrip(capture)).toEqual(capture);
  });

  it('gives back any numbers, texts and raw lines', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    // Whole characters: a file cannot contain a lone surrogate. A cell of CSV does not begin with a byte order mark.
    const text = fc.string({ unit: 'grapheme' }).filter((value) => !value.startsWith('\uFEFF'));
    const capture = fc.record({
      lines: fc.array(
        fc.record({ elapsedS: number, port: text, raw: text, encoding: fc.constantFrom('utf8', 'latin1') }),
      ),
      marks: fc.array(fc.record({ elapsedS: number, kind: fc.constantFrom(...markKinds), text })),
      values: fc.array(fc.tuple(number, number, text)),
      note: text,
    });
    fc.assert(
      fc.property(capture, ({ lines, marks, values, note }) => {
        const made: Capture = {
          id: 'made',
          startedAt: '2026-11-25T09:00:00+01:00',
          meters: [{ port: 'COM3', profile: 'a "profile"' }],
          setup: { seed: 7 },
          readings: [
            ...values.map(
              ([elapsedS, value, raw]) => ({ role: 'flame_signal', unit: 'V', elapsedS, value, raw }) as const,
            ),
            ...lines.map(
              ({ raw, elapsedS }, i) =>
                ({
                  role: 'pilot_pressure',
                  unit: 'Pa',
                  elapsedS,
                  value: NaN,
                  flag: 'unreadable',
                  raw,
                  line: i + 1,
                }) as const,
            ),
          ],
          lines: lines.map((line, i) => ({ ...line, seq: i + 1 })),
          marks,
          trials: [
            { pressure: 2.5, unit: 'inH2O', sparkDelayS: 0, lit: true, timeToProveS: 1.25, elapsedS: 3 },
            { pressure: 600, unit: 'Pa', sparkDelayS: 5, lit: false },
          ],
          notes: [{ at: '2026-11-25T10:00:00Z', text: note }],
        };
        expect(roundTrip(made)).toEqual(made);
      }),
      { numRuns: 200 },
    );
  });

  it('describes every table with a schema (Frictionless Data Package 1.0)', () => {
    const entries = writeDataPackage(simulateVisit('clean', 1).capture);
    const descriptor = JSON.parse(new TextDecoder().decode(entries.get('datapackage.json'))) as {
      resources: { name: string; path: string; schema?: { fields: { name: string; type: string }[] } }[];
    };
    for (const { path, schema } of descriptor.resources) {
      const text = new TextDecoder().decode(entries.get(path));
      expect(text).not.toBe('');
      if (path.endsWith('.csv')) expect(schema?.fields.map((field) => field.name).join(',')).toBe(text.split('\n')[0]);
    }
    const readings = new TextDecoder().decode(entries.get('readings.csv'));
    expect(readings).toMatch(/^elapsed_s,channel,value,unit,flag,raw/);
  });

  describe('of a practice capture', () => {
    /** The package with another descriptor. */
    const withFacts = (capture: Capture, change: (descriptor: { pilotBench?: Record<string, unknown> }) => void) => {
      const entries = writeDataPackage(capture);
      const text = new TextDecoder().decode(entries.get('datapackage.json'));
      const descriptor = JSON.parse(text) as { pilotBench?: Record<string, unknown> };
      change(descriptor);
      const changed = new TextEncoder().encode(JSON.stringify(descriptor));
      const read = readDataPackage({
        file: 'visit.zip',
        entries: new Map([...entries, ['datapackage.json', changed]]),
      });
      if (!read.ok) throw new Error(read.fault.message);
      return read.value.capture;
    };
    const { capture } = simulateVisit('clean', 3);

    it('says so in its descriptor, and one of a real capture does not', () => {
      const practiceIn = (made: Capture) =>
        /"practice": true/.test(new TextDecoder().decode(writeDataPackage(made).get('datapackage.json')));
      expect(practiceIn(capture)).toBe(true);
      expect(practiceIn({ ...simple, practice: true })).toBe(true);
      expect(practiceIn(simple)).toBe(false);
      expect(roundTrip({ ...simple, practice: true })).toEqual({ ...simple, practice: true });
    });

    it.each([
      ['was made before it could say so', ['practice']],
      ['does not say so and has lost its meters', ['practice', 'meters']],
    ])('that %s is marked all the same', (_what, keys) => {
      const read = withFacts(capture, ({ pilotBench }) => keys.forEach((key) => delete pilotBench![key]));
      expect(read.practice).toBe(true);
    });

    it('is marked though its descriptor denies it, or holds nothing of ours', () => {
      const denied = withFacts(capture, ({ pilotBench }) => Object.assign(pilotBench!, { practice: false }));
      expect(denied.practice).toBe(true);
      expect(withFacts(capture, (descriptor) => delete descriptor.pilotBench).practice).toBe(true);
    });
  });

  it('reads a package of another program that holds only readings', () => {
    const encode = (text: string) => new TextEncoder().encode(text);
    const read = readDataPackage({
      file: 'other.zip',
      entries: new Map([
        ['sweep/datapackage.json', encode('{"resources":[{"name":"readings","path":"r.csv"}]}')],
        ['sweep/r.csv', encode('channel,elapsed_s,unit,value\nflame_signal,1,V,4.5\n')],
      ]),
    });
    expect(read.ok && read.value.capture.readings).toMatchObject([{ role: 'flame_signal', value: 4.5 }]);
  });

  // Frictionless Data Package 1.0, "Data Resource": absolute paths and parent folders are not allowed (from memory).
  it.each(['../secret.csv', '/etc/passwd', 'a/../../secret.csv', String.raw`..\secret.csv`, 'C:/secret.csv'])(
    'that names %s, outside of it, is refused',
    (path) => {
      const text = JSON.stringify({
        resources: [
          { name: 'film', path: 'film.bin' },
          { name: 'readings', path },
        ],
      });
      const refused = {
        ok: false,
        fault: {
          code: 'package-invalid',
          message: `visit is not a usable data package: in datapackage.json resources.1.path: it leads out of the folder of the package.`,
        },
      };
      expect(pathsInPackage('visit', text)).toMatchObject(refused);
      const entries = new Map([
        ['datapackage.json', new TextEncoder().encode(text)],
        [path, new TextEncoder().encode('elapsed_s,channel,value,unit\n')],
      ]);
      expect(readDataPackage({ file: 'visit', entries })).toMatchObject(refused);
    },
  );

  it('lists the files that are read, and no others', () => {
    const text = '{"resources":[{"name":"film","path":"film.bin"},{"name":"readings","path":"a..b/r.csv"}]}';
    expect(pathsInPackage('visit', text)).toEqual({
      ok: true,
      value: ['a..b/r.csv', 'lines.csv', 'marks.csv', 'trials.csv', 'setup.json'],
    });
  });

  it('is refused when it is damaged, and any bytes are handled', () => {
    expect(readZip(Uint8Array.of(80, 75, 3, 4, 0, 1, 2), 'x.zip')).toMatchObject({
      ok: false,
      fault: { code: 'package-invalid' },
    });
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const entries = readZip(bytes, 'x.zip');
        if (entries.ok) readDataPackage({ file: 'x.zip', entries: entries.value });
        for (const path of ['datapackage.json', 'readings.csv', 'lines.csv', 'marks.csv', 'trials.csv', 'setup.json']) {
          const whole = writeDataPackage(simple);
          whole.set(path, bytes);
          readDataPackage({ file: 'x.zip', entries: whole });
        }
      }),
    );
  });
});

const simple: Capture = { id: 's', meters: [], setup: {}, readings: [], lines: [], marks: [], trials: [], notes: [] };
