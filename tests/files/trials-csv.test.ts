import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDataPackage, writeDataPackage } from '../../shared/files/data-package.ts';
import { readTrialsCsv, writeTrialsCsv } from '../../shared/files/trials-csv.ts';
import { purgeSources, type Trial, trialSources, trialStatuses } from '../../shared/model/capture.ts';

const read = (text: string) => readTrialsCsv({ file: 'a.trials.csv', text });
const trialsIn = (text: string): Trial[] => {
  const trials = read(text);
  if (!trials.ok) throw new Error(trials.fault.message);
  return trials.value;
};

/** A whole record: a trial that was corrected, one that was discarded, and nothing known of the spark of a third. */
const record: Trial[] = [
  { pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: false, elapsedS: 310.5, knownBy: 'meters' },
  { pressure: 600, unit: 'Pa', lit: true },
  {
    pressure: 2.4,
    unit: 'inH2O',
    sparkDelayS: 5,
    lit: true,
    timeToProveS: 6.25,
    timeToProveFromSparkS: 1.25,
    elapsedS: 310.5,
    knownBy: 'corrected',
    status: 'valid',
    corrects: 1,
    reason: 'the verdict, "not lit",\nwas wrong',
    purgeS: 61.5,
    purgeBy: 'air',
    pressureBefore: 0.2,
    pressureAfter: -0.01,
    note: 'door shut',
  },
  { pressure: 600, unit: 'Pa', lit: true, status: 'void', corrects: 2, reason: 'valve was shut', purgeBy: 'control' },
];

describe('NAME.trials.csv', () => {
  it('gives back a whole record, each entry with what it had and no more', () => {
    expect(trialsIn(writeTrialsCsv(record))).toEqual(record);
  });

  it('has the columns of the contract, and those beyond the first only when they are used', () => {
    expect(writeTrialsCsv([{ pressure: 2.5, unit: 'inH2O', sparkDelayS: 0, lit: true }])).toBe(
      'pressure_inH2O,spark_delay_s,lit,time_to_prove_s\n2.5,0,yes,\n',
    );
    expect(writeTrialsCsv(record).split('\n')[0]).toBe(
      'pressure_inH2O,pressure_Pa,spark_delay_s,lit,time_to_prove_s,elapsed_s,time_to_prove_from_spark_s,known_by,status,' +
        'corrects,reason,purge_s,purge_by,pressure_before_inH2O,pressure_after_inH2O,note',
    );
    expect(writeTrialsCsv([])).toBe('pressure_inH2O,spark_delay_s,lit,time_to_prove_s\n');
  });

  it('reads a file of before as it was: semicolons, decimal commas, CRLF, words for lit, comments', () => {
    const text = '# made by hand\r\npressure_mbar;spark_delay_s;lit;time_to_prove_s\r\n5,7;0;Yes;1,5\r\n6;4;0;\r\n';
    expect(trialsIn(text)).toEqual([
      { pressure: 5.7, unit: 'mbar', sparkDelayS: 0, lit: true, timeToProveS: 1.5 },
      { pressure: 6, unit: 'mbar', sparkDelayS: 4, lit: false },
    ]);
  });

  it('knows nothing of the spark where the cell is empty or there is no such column', () => {
    expect(trialsIn('pressure_Pa,spark_delay_s,lit\n600,,yes\n')).toEqual([{ pressure: 600, unit: 'Pa', lit: true }]);
    expect(trialsIn('pressure_Pa,lit\n600,yes\n')).toEqual([{ pressure: 600, unit: 'Pa', lit: true }]);
  });

  it('takes a pressure before in another unit than that of the trial: 1 kPa is 1000 Pa', () => {
    const [trial] = trialsIn('pressure_Pa,lit,pressure_before_kPa\n600,yes,0.05\n');
    expect(trial?.pressureBefore).toBeCloseTo(50, 9);
  });

  it.each([
    ['corrects', '1', 'corrects must be the number of an earlier trial; the first one is 1'],
    ['corrects', '0.5', 'corrects must be the number of an earlier trial; the first one is 1'],
    ['known_by', 'guess', 'known_by must be one of meters, hand, corrected, not "guess"'],
    ['status', 'maybe', 'status must be one of valid, void, not "maybe"'],
    ['purge_by', 'wind', 'purge_by must be one of control, hand, air, confirmed, not "wind"'],
    ['purge_s', '-1', 'purge_s must be seconds, 0 or more'],
    ['time_to_prove_from_spark_s', 'soon', 'time_to_prove_from_spark_s must be seconds, 0 or more'],
    ['spark_delay_s', 'late', 'spark_delay_s must be seconds, 0 or more'],
    ['elapsed_s', 'noon', 'elapsed_s must be seconds'],
    ['pressure_after_Pa', 'none', 'pressure_after_Pa is not a number'],
  ])('refuses a row whose %s is "%s", and says which', (column, value, problem) => {
    expect(read(`pressure_Pa,lit,${column}\n600,yes,${value}\n`)).toMatchObject({
      ok: false,
      fault: { code: 'trials-invalid', message: `a.trials.csv, line 2: ${problem}.` },
    });
  });
});

it('a data package gives back any record of trials, with any line breaks in its texts', () => {
  const seconds = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true });
  const number = fc.double({ noNaN: true, noDefaultInfinity: true });
  const text = fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 200 })
    .filter((value) => !value.startsWith('\uFEFF'));
  const words = fc.oneof(text, fc.constantFrom('a\r\nb', '# no comment', ' ', '"', '\n'));
  const trial = fc.record(
    {
      pressure: number,
      unit: fc.constantFrom('inH2O', 'Pa', 'psi'),
      lit: fc.boolean(),
      sparkDelayS: seconds,
      timeToProveS: seconds,
      timeToProveFromSparkS: seconds,
      elapsedS: number,
      knownBy: fc.constantFrom(...trialSources),
      status: fc.constantFrom(...trialStatuses),
      corrects: fc.constant(true),
      reason: words,
      purgeS: seconds,
      purgeBy: fc.constantFrom(...purgeSources),
      pressureBefore: number,
      pressureAfter: number,
      note: words,
    },
    { requiredKeys: ['pressure', 'unit', 'lit'] },
  );
  fc.assert(
    fc.property(fc.array(trial), (drawn) => {
      const trials = drawn.map(({ corrects, ...rest }, i): Trial => ({
        ...rest,
        ...(corrects && i > 0 && { corrects: i }),
      }));
      const capture = { id: 'made', meters: [], setup: {}, readings: [], lines: [], marks: [], trials, notes: [] };
      const back = readDataPackage({ file: 'a.zip', entries: writeDataPackage(capture) });
      if (!back.ok) throw new Error(back.fault.message);
      expect(back.value.capture.trials).toEqual(trials);
    }),
    { numRuns: 300 },
  );
});
