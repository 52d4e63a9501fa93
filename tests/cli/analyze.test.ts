import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { callCommand } from '../helpers/call-command.ts';
import { jsonLines, runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { truth, writeSample } from './sample-sweep.ts';

type Result = AnalysisResult & { file: string };

describe('analyze', () => {
  it('prints one line of JSON per file, in the order given, with the keys in the documented order', async () => {
    const folder = testFolder();
    const files = [writeSample(folder, 'b', { seed: 3 }), writeSample(folder, 'a', { seed: 5 })];
    const { status, out } = await callCommand(['analyze', ...files, '--json'], folder);
    expect(status).toBe(0);
    const results = jsonLines(out) as unknown as Result[];
    expect(results.map((result) => result.file)).toEqual(files);
    const contract = [
      'schema',
      'file',
      'pressureUnit',
      'signalUnit',
      'readings',
      'lag_s',
      'plateau',
      'requiredSignal',
      'signalInterval',
      'window',
      'setPoint',
      'asLeft',
      'lightOff',
      'hysteresis',
      'phases',
      'fanOnlyPressure',
      'warnings',
    ];
    for (const result of results) {
      expect(result.schema).toBe('pilot-bench/analysis@1');
      const keys = Object.keys(result).filter((key) => contract.includes(key));
      expect(keys).toEqual(contract.filter((key) => keys.includes(key)));
      expect(keys).toEqual(expect.arrayContaining(contract.filter((key) => key !== 'hysteresis')));
    }
  });

  it('finds the known ends of a simulated burner', async () => {
    const folder = testFolder();
    const { out } = await callCommand(['analyze', writeSample(folder, 'known'), '--json'], folder);
    const [result] = jsonLines(out) as unknown as [Result];
    const { low, high } = result.signalInterval;
    // 0.06 inH2O: a little over the interval that the analysis itself gives for such a sweep.
    expect(Math.abs((low?.value ?? Number.NaN) - truth.low)).toBeLessThan(0.06);
    expect(Math.abs((high?.value ?? Number.NaN) - truth.high)).toBeLessThan(0.06);
    expect(Math.abs(result.plateau.value - truth.plateau)).toBeLessThan(0.05);
    expect(result.readings).toMatchObject({ pressure: 600, signal: 600, flagged: 0 });
    // Lit at 3.5, not at 3.8: the end is the outermost pressure that lit, its interval runs to the failure.
    expect(result.window.high).toMatchObject({ cause: 'light-off', value: 3.5, ci: [3.5, 3.8] });
    // Six trials at six pressures are no row of three at 2.5.
    expect(result.asLeft).toMatchObject({ value: 2.5, decision: 'conditional-pass', limitedBy: ['light-off'] });
    expect(result.lightOff).toMatchObject({ trials: 6, lit: 5, confidence: 0.95 });
    // Clopper and Pearson 1934: at the bound p, 5 or more of 6 have a chance of 5 %: 6 p^5 (1 - p) + p^6.
    const p = result.lightOff?.lowerBound ?? Number.NaN;
    expect(6 * p ** 5 * (1 - p) + p ** 6).toBeCloseTo(0.05, 9);
  });

  it('claims a confidence for people only of what is fitted: never of a bracket of two trials', async () => {
    const folder = testFolder();
    const { out } = await callCommand(['analyze', writeSample(folder, 'known')], folder);
    const line = (name: string) => out.split('\n').find((each) => each.startsWith(`  ${name}`));
    expect(out.split('\n')[0]).not.toContain('%');
    expect(line('High end')).toContain('(bracket of two trials: 3.50 to 3.80 inH2O)');
    expect(line('High end')).not.toContain('95 %');
    for (const name of ['Low end', 'Lag', 'Plateau']) expect(line(name)).toContain('(95 % confidence interval: ');
  });

  it('gives the same output twice, to the last digit', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'twice');
    const first = await callCommand(['analyze', file, '--json'], folder);
    // A process of its own has no fit of the first to take up.
    const second = await runCommand(['analyze', file, '--json'], folder);
    expect(first.out).toBe(second.out);
    expect(first.out).not.toBe('');
  });

  it('uses --setup and --trials instead of the files beside', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'beside');
    writeFileSync(join(folder, 'other.json'), '{"minimumSignal":{"value":4400,"unit":"mV"}}');
    writeFileSync(join(folder, 'other.csv'), 'pressure_inH2O,spark_delay_s,lit\n2,0,no\n2.2,0,yes\n');
    const { out } = await callCommand(
      ['analyze', file, '--setup', 'other.json', '--trials', 'other.csv', '--json'],
      folder,
    );
    const [result] = jsonLines(out) as unknown as [Result];
    expect(result.requiredSignal).toMatchObject({ value: 4.4, basis: 'minimum-signal' });
    expect(result.lightOff).toMatchObject({ trials: 2, lit: 1 });
    expect(result.asLeft).toBeUndefined();
    await callCommand(['convert', file, 'packed.zip'], folder);
    const packed = await callCommand(
      ['analyze', 'packed.zip', '--setup', 'other.json', '--trials', 'other.csv', '--json'],
      folder,
    );
    expect({ ...jsonLines(packed.out)[0], file }).toEqual(result);
  });

  it('prints the same numbers for people as for programs, each in its row', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'people');
    const [result] = jsonLines((await callCommand(['analyze', file, '--json'], folder)).out) as unknown as [Result];
    const { status, out } = await callCommand(['analyze', file], folder);
    expect(status).toBe(0);
    const row = (label: string) =>
      new RegExp(`^  ${label} +(.*)$`, 'mu').exec(out)?.[1]?.replaceAll(/-?\d+\.\d+/gu, (text) => {
        numbers.push(text);
        return '#';
      });
    let numbers: string[] = [];
    const numbersIn = (label: string, start: string) => {
      numbers = [];
      expect(row(label), label).toMatch(new RegExp(`^${start}`, 'u'));
      return numbers;
    };
    const printed = (...values: (number | undefined)[]) => values.map((value) => (value as number).toFixed(2));
    const { low, high } = result.window;
    const { plateau, requiredSignal, setPoint, asLeft } = result;
    // Guarded ends are rounded inward and margins down, in hundredths.
    const up = (value = Number.NaN) => (Math.ceil(value * 100) / 100).toFixed(2);
    const down = (value = Number.NaN) => (Math.floor(value * 100) / 100).toFixed(2);
    const end = '# inH2O \\(95 % confidence interval: # to # inH2O\\), guarded #: ';
    expect(numbersIn('Low end', `${end}flame signal`)).toEqual([
      ...printed(low?.value, ...(low?.ci ?? [])),
      up(low?.guarded),
    ]);
    // What two trials leave between them is a bracket, not an interval of any confidence.
    const bracket = '# inH2O \\(bracket of two trials: # to # inH2O\\), guarded #: ';
    expect(numbersIn('High end', `${bracket}light-off trials`)).toEqual([
      ...printed(high?.value, ...(high?.ci ?? [])),
      down(high?.guarded),
    ]);
    // Both ends of its interval print alike in this sample.
    const [from, to] = printed(...plateau.ci);
    expect(from).toBe(to);
    expect(numbersIn('Plateau', '# V \\(95 % confidence interval: about #\\), required # V$')).toEqual(
      printed(plateau.value, plateau.ci[0], requiredSignal.value),
    );
    expect(numbersIn('Set point', '# inH2O: .*; margins # below, # above$')).toEqual([
      ...printed(setPoint?.value),
      down(setPoint?.marginLow),
      down(setPoint?.marginHigh),
    ]);
    expect(
      numbersIn('As left', '# inH2O: conditional pass, limited by light-off trials; margins # below, # above$'),
    ).toEqual([...printed(asLeft?.value), down(asLeft?.marginLow), down(asLeft?.marginHigh)]);
    // Of the six trials one was made at 2.5, with the spark delayed by 5 of the 10 s: 1 of 1 proves 5 %, whatever those further out did.
    expect(row('Light-off')).toBe(
      '5 of 6 trials lit, at all pressures and spark delays together. At # inH2O, as left, they prove this and no more: with the spark delayed lit 1 of 1: at least 5 % at 95 % confidence (Clopper-Pearson, one-sided). A trial counts there within # inH2O of it.',
    );
  });

  it('reads a zip and a package folder as the same capture as the CSV', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'one');
    expect((await callCommand(['convert', file, 'one.zip'], folder)).status).toBe(0);
    expect((await callCommand(['convert', file, 'one-folder'], folder)).status).toBe(0);
    const { status, out } = await callCommand(['analyze', file, 'one.zip', 'one-folder', '--json'], folder);
    expect(status).toBe(0);
    const [csv, zip, unpacked] = jsonLines(out).map(({ file: _, ...rest }) => rest);
    expect(zip).toEqual(csv);
    expect(unpacked).toEqual(csv);
  });

  it('converts back to a CSV with the same answer', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'there');
    await callCommand(['convert', file, 'there.zip'], folder);
    mkdirSync(join(folder, 'back'));
    expect((await callCommand(['convert', 'there.zip', 'back/again.csv'], folder)).status).toBe(0);
    const { out } = await callCommand(['analyze', file, 'back/again.csv', '--json'], folder);
    const [before, again] = jsonLines(out).map(({ file: _, ...rest }) => rest);
    expect(again).toEqual(before);
  });

  it('reports unknown columns and ignores them', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'odd');
    const text = readFileSync(join(folder, file), 'utf8');
    const odd = text.split('\n').map((line, i) => (line === '' ? '' : `${line},${i === 0 ? 'stack_draft_x' : '1'}`));
    writeFileSync(join(folder, file), odd.join('\n'));
    const { status, out, err } = await callCommand(['analyze', file, '--json'], folder);
    expect(status).toBe(0);
    expect(err).toBe('odd.csv: the column stack_draft_x is not known and was left out.\n');
    expect(jsonLines(out)).toHaveLength(1);
  });

  it('ends without a message when the pipe of its output is closed', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'first');
    for (let i = 0; i < 3; i += 1) copyFileSync(join(folder, file), join(folder, `copy-${i}.csv`));
    const { spawnSync } = await import('node:child_process');
    const main = new URL('../../electron/cli/main.ts', import.meta.url).pathname;
    const { stdout, stderr } = spawnSync(
      'bash',
      ['-c', `"${process.execPath}" "${main}" analyze --json copy-*.csv | head -1`],
      { cwd: folder, encoding: 'utf8' },
    );
    expect(stdout.split('\n').filter(Boolean)).toHaveLength(1);
    expect(stderr).toBe('');
  }, 30_000);
});

describe('compare', () => {
  it('finds no change between a sweep and itself', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'same');
    const { status, out } = await callCommand(['compare', file, file, '--json'], folder);
    expect(status).toBe(0);
    const [result] = jsonLines(out);
    expect(result).toMatchObject({ schema: 'pilot-bench/comparison@1' });
    for (const quantity of ['lowEdge', 'highEdge', 'plateau', 'windowWidth', 'noise', 'lag'])
      expect(result?.[quantity], quantity).toMatchObject({ change: 0, significant: false });
  });

  it('finds ends that moved by 0.25 inH2O, in numbers and in words', async () => {
    const folder = testFolder();
    writeSample(folder, 'then', { seed: 11 });
    writeSample(folder, 'now', { seed: 13, shift: 0.25 });
    const { out } = await callCommand(['compare', 'then.csv', 'now.csv', '--json'], folder);
    const [result] = jsonLines(out) as unknown as [
      { lowEdge: { before: number; after: number; change: number; significant: boolean }; summary: string[] },
    ];
    expect(result.lowEdge.significant).toBe(true);
    expect(Math.abs(result.lowEdge.change - 0.25)).toBeLessThan(0.06);
    expect(result.summary.length).toBeGreaterThan(0);
    const people = await callCommand(['compare', 'then.csv', 'now.csv'], folder);
    expect(people.out).toContain(`\n  ${result.summary[0]}\n`);
    const { before, after, change } = result.lowEdge;
    const cells = /^ {2}Low end.*? inH2O +(\S+) +(\S+) +(\S+) /mu.exec(people.out)?.slice(1);
    expect(cells).toEqual([before.toFixed(2), after.toFixed(2), `+${change.toFixed(2)}`]);
  });

  it('gives an error in place of a result when one of the two cannot be used', async () => {
    const folder = testFolder();
    const { status, out, err } = await callCommand(
      ['compare', writeSample(folder, 'then'), 'gone.csv', '--json'],
      folder,
    );
    expect(status).toBe(1);
    expect(jsonLines(out)[0]).toMatchObject({ error: { code: 'file-missing' } });
    expect(err).toContain('There is no file gone.csv.');
  });
});

describe('simulate', () => {
  it('writes the same capture for the same seed, and another for another', async () => {
    const folder = testFolder();
    const simulate = async (out: string, seed: string) => {
      const { status } = await callCommand(['simulate', '--scenario', 'clean', '--seed', seed, '--out', out], folder);
      expect(status).toBe(0);
      return readFileSync(join(folder, out), 'utf8');
    };
    const first = await simulate('a.csv', '4');
    expect(await simulate('b.csv', '4')).toBe(first);
    expect(await simulate('c.csv', '5')).not.toBe(first);
    expect(readFileSync(join(folder, 'a.trials.csv'), 'utf8')).toMatch(/^pressure_/u);
    expect(JSON.parse(readFileSync(join(folder, 'a.setup.json'), 'utf8'))).toHaveProperty('makerPressureRange');
  });

  it('also writes the true values, by which an analysis can be checked', async () => {
    const folder = testFolder();
    await callCommand(['simulate', '--scenario', 'clean', '--out', 'a.zip', '--truth', 'truth.json'], folder);
    const trueValues = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as {
      plateau: number;
      lowEdge: number;
      highEdge: number;
    };
    const { status, out } = await callCommand(['analyze', 'a.zip', '--json'], folder);
    expect(status).toBe(0);
    const [result] = jsonLines(out) as unknown as [Result];
    expect(result).toMatchObject({ file: 'a.zip', window: { status: 'bounded' } });
    // One per cent of the plateau; 0.06 inH2O as above.
    expect(Math.abs(result.plateau.value - trueValues.plateau)).toBeLessThan(0.05);
    expect(Math.abs((result.signalInterval.low?.value ?? Number.NaN) - trueValues.lowEdge)).toBeLessThan(0.06);
    expect(Math.abs((result.signalInterval.high?.value ?? Number.NaN) - trueValues.highEdge)).toBeLessThan(0.06);
  });
});
