import { describe, expect, it } from 'vitest';
import { readDataPackage, readZip, writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import { readSetup } from '../../../shared/files/setup-file.ts';
import { readWideCsv, writeWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import { isRefused, mutatedBytes, mutatedJson, mutatedText, tryMutations } from './mutate.ts';
import { unsoundNumber, unsoundPart } from './sound-capture.ts';

// Every kind of row, and small: a mutation then strikes each of them often.
const visit = simulateVisit('clean', 3).capture;
const capture: Capture = {
  ...visit,
  readings: visit.readings.slice(0, 60),
  lines: visit.lines.slice(0, 60),
  marks: [...visit.marks.slice(0, 5), { elapsedS: 1.5, kind: 'note', text: '=SUM(A1) "quoted", with a comma' }],
};
const entries = writeDataPackage(capture);
const packed = writeZip(entries);
const decoder = new TextDecoder();

const signature = [0x50, 0x4b];
const zipBytes = [
  [...signature, 3, 4],
  [...signature, 1, 2],
  [...signature, 5, 6],
  [0xff, 0xff, 0xff, 0xff],
  [0, 0, 0, 0],
];
const cells = [
  '"',
  ',',
  ';',
  '\n',
  '\r',
  '#',
  '\uFEFF',
  '=1+1',
  "'",
  '-',
  'e',
  '1e999',
  '1e308',
  'NaN',
  'OL',
  '0x10',
  ','.repeat(500),
];

/** The capture of a package that is accepted; undefined when it is refused. Refusals are sentences. */
function readPackage(files: Map<string, Uint8Array>): Capture | undefined {
  const read = readDataPackage({ file: 'visit.zip', entries: files });
  if (read.ok) return read.value.capture;
  isRefused(read.fault);
  return undefined;
}

describe('mutated files', () => {
  it('packages whose bytes were changed: refused, or every file in them is as it was packed', () => {
    tryMutations('packages', mutatedBytes(packed, zipBytes), (bytes) => {
      const zip = readZip(bytes, 'visit.zip');
      if (!zip.ok) return false;
      for (const [name, content] of zip.value) if (entries.has(name)) expect(content).toEqual(entries.get(name));
      const read = readPackage(zip.value);
      if (read) expect(unsoundPart(read)).toBeUndefined();
      return read !== undefined;
    });
  });

  it.each([...entries.keys()])(
    'packages whose %s was changed: refused, or sound and the same again after export and import',
    (name) => {
      tryMutations(`packages in ${name}`, mutatedText(decoder.decode(entries.get(name)), cells), (text) => {
        const read = readPackage(new Map(entries).set(name, new TextEncoder().encode(text)));
        if (!read) return false;
        expect(unsoundPart(read)).toBeUndefined();
        const again = readPackage(writeDataPackage(read));
        expect(again && { ...again, id: '' }).toEqual({ ...read, id: '' });
        return true;
      });
    },
  );

  it('packages whose description was changed part by part: refused, or sound', () => {
    const description: unknown = JSON.parse(decoder.decode(entries.get('datapackage.json')));
    tryMutations('package descriptions', mutatedJson(description), (json) => {
      const read = readPackage(
        new Map(entries).set('datapackage.json', new TextEncoder().encode(JSON.stringify(json))),
      );
      if (read) expect(unsoundPart(read)).toBeUndefined();
      return read !== undefined;
    });
  });

  it('CSVs: refused, or each reading is the number that its cell shows', () => {
    tryMutations('CSVs', mutatedText(writeWideCsv(capture), cells), (text) => {
      const read = readWideCsv({ file: 'sweep.csv', text });
      if (!read.ok) return isRefused(read.fault);
      expect(unsoundPart(read.value.capture)).toBeUndefined();
      for (const { value, unit, raw } of read.value.capture.readings)
        expect([raw, value]).toEqual([raw, shownIn(raw, unit)]);
      return true;
    });
  });

  it('setups: refused, or every value is one that the format allows', () => {
    const setup: Setup = {
      minimumSignal: { value: 1.25, unit: 'V' },
      signalDropFraction: 0.1,
      makerPressureRange: { low: 1.5, high: 4, unit: 'inH2O' },
      fanOnlyPressure: { value: 0.2, unit: 'inH2O' },
      pilotTrialSeconds: 10,
      pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
      asLeftPressure: { value: 2.4, unit: 'inH2O' },
      confidence: 0.95,
      seed: 1,
      lightOffPlan: { plain: 3, delayed: 1 },
    };
    const judge = (text: string) => {
      const read = readSetup({ file: 'sweep.setup.json', text });
      if (!read.ok) return isRefused(read.fault);
      expect(wrongValue(read.value.setup), text).toBeUndefined();
      return true;
    };
    tryMutations('setups', mutatedJson(setup), (json) => judge(JSON.stringify(json)));
    tryMutations(
      'setups as text',
      mutatedText(JSON.stringify(setup), ['-', '1e999', '{', '"', ',', '[', '\u0000']),
      judge,
    );
  });
});

/** The number that a cell shows, by the definition of the format; NaN when it shows none. */
function shownIn(raw: string, unit: string): number {
  const word = raw.trim().toLowerCase();
  if (unit === 'on' && ['yes', 'on', 'true'].includes(word)) return 1;
  if (unit === 'on' && ['no', 'off', 'false'].includes(word)) return 0;
  const [whole, exponent, ...more] = word.split('e');
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(whole ?? '') || more.length > 0) return Number.NaN;
  if (exponent !== undefined && !/^[+-]?\d+$/.test(exponent)) return Number.NaN;
  const value = Number.parseFloat(word.replace(',', '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}

/** The first value of a setup that the published format does not allow. */
function wrongValue(setup: Setup): string | undefined {
  const { signalDropFraction: drop = 0.1, confidence = 0.95, pilotTrialSeconds = 10, seed = 1 } = setup;
  const { low, high } = setup.makerPressureRange ?? { low: 0, high: 1 };
  const { percentOfReading, absolute } = setup.pressureAccuracy ?? { percentOfReading: 0, absolute: 0 };
  const rules: [string, boolean][] = [
    ['signalDropFraction', drop > 0 && drop < 1],
    ['confidence', confidence > 0 && confidence < 1],
    ['pilotTrialSeconds', pilotTrialSeconds > 0],
    ['seed', Number.isInteger(seed) && seed >= 0],
    ['makerPressureRange', low < high],
    ['pressureAccuracy', percentOfReading >= 0 && absolute >= 0],
    ['minimumSignal', (setup.minimumSignal?.value ?? 0) >= 0],
  ];
  return rules.find(([, holds]) => !holds)?.[0] ?? unsoundNumber(setup);
}
