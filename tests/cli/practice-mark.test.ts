import { spawnSync } from 'node:child_process';
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { callCommand } from '../helpers/call-command.ts';
import { runCommand, jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { writeSample } from './sample-sweep.ts';

const samples = join(import.meta.dirname, '..', '..', 'sample-captures');
const mark = 'PRACTICE, an invented burner';

/** A folder with the CSV of a practice capture, without its setup and trials, and a CSV of a real burner. */
function folderOfBoth(): string {
  const folder = testFolder();
  copyFileSync(join(samples, 'clean.csv'), join(folder, 'practice.csv'));
  writeSample(folder, 'real');
  return folder;
}

describe('a practice capture says so', () => {
  it('when it is analyzed, as CSV, package and folder, for people and for programs', async () => {
    const folder = folderOfBoth();
    await callCommand(['convert', 'practice.csv', 'practice.zip'], folder);
    await callCommand(['convert', 'practice.zip', 'unpacked'], folder);
    await callCommand(['convert', 'unpacked', 'again.csv'], folder);
    expect(readFileSync(join(folder, 'again.csv'), 'utf8')).toBe(readFileSync(join(folder, 'practice.csv'), 'utf8'));
    const marked = ['practice.csv', 'practice.zip', 'unpacked', 'again.csv'];
    const people = await callCommand(['analyze', ...marked, 'real.csv'], folder);
    for (const file of marked) expect(people.out).toContain(`${mark}: ${file}\n`);
    expect(people.out).toMatch(/^real\.csv$/mu);
    const answers = jsonLines((await callCommand(['analyze', ...marked, 'real.csv', '--json'], folder)).out);
    expect(answers.map(({ file, practice }) => [file, practice])).toEqual([
      ...marked.map((file) => [file, true]),
      ['real.csv', undefined],
    ]);
  }, 60_000);

  it('in the list of the store, and in a report made from there, on every page', async () => {
    const folder = folderOfBoth();
    const taken = jsonLines((await callCommand(['import', 'practice.csv', 'real.csv', '--json'], folder)).out);
    const [practiceId, realId] = taken.map(({ id }) => id as string) as [string, string];
    const listed = jsonLines((await callCommand(['captures', '--json'], folder)).out);
    expect(new Map(listed.map(({ id, practice }) => [id, practice]))).toEqual(
      new Map([
        [practiceId, true],
        [realId, undefined],
      ]),
    );
    const { out } = await callCommand(['captures'], folder);
    expect(out).toMatch(new RegExp(`^${practiceId} .*PRACTICE$`, 'mu'));
    expect(out.match(/PRACTICE/gu)).toHaveLength(1);

    for (const [id, file] of [
      [practiceId, 'practice.pdf'],
      [practiceId, 'practice.html'],
      [realId, 'real.html'],
    ] as const)
      expect(await callCommand(['report', id, '--out', file], folder)).toMatchObject({ status: 0 });
    const pdf = spawnSync('pdftotext', ['-layout', join(folder, 'practice.pdf'), '-'], { encoding: 'utf8' }).stdout;
    const pages = pdf.split('\f').slice(0, -1);
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page).toContain(`PRACTICE: Capture ${practiceId}`);
    expect(readFileSync(join(folder, 'practice.html'), 'utf8')).toContain(`<h1>${mark}: proof of pilot settings</h1>`);
    expect(readFileSync(join(folder, 'real.html'), 'utf8')).not.toContain('PRACTICE');
  }, 60_000);

  it('when it is compared, with a warning where the other one is real', async () => {
    const folder = folderOfBoth();
    const both = await callCommand(['compare', 'practice.csv', 'practice.csv', '--json'], folder);
    const codes = (out: string) => (jsonLines(out)[0]!['warnings'] as { code: string }[]).map(({ code }) => code);
    expect(jsonLines(both.out)[0]).toMatchObject({ practice: true });
    expect(codes(both.out)).not.toContain('practice-compared');
    const mixed = await callCommand(['compare', 'practice.csv', 'real.csv', '--json'], folder);
    expect(jsonLines(mixed.out)[0]).toMatchObject({ practice: true });
    expect(codes(mixed.out)).toContain('practice-compared');
    const people = (await callCommand(['compare', 'real.csv', 'practice.csv'], folder)).out;
    expect(people).toContain(`real.csv -> ${mark}: practice.csv\n`);
    expect(people).toContain('Warning: The later sweep is PRACTICE');
    const real = await callCommand(['compare', 'real.csv', 'real.csv', '--json'], folder);
    expect(jsonLines(real.out)[0]).not.toHaveProperty('practice');
    expect(codes(real.out)).not.toContain('practice-compared');
  }, 60_000);

  it('when it is simulated, as CSV and as package', async () => {
    const folder = testFolder();
    for (const out of ['a.csv', 'a.zip'])
      await callCommand(['simulate', '--scenario', 'clean', '--seed', '3', '--out', out], folder);
    expect(readFileSync(join(folder, 'a.csv'), 'utf8')).toMatch(/^# practice: true\nelapsed_s,/u);
    const answers = jsonLines((await callCommand(['analyze', 'a.csv', 'a.zip', '--json'], folder)).out);
    expect(answers.map(({ practice }) => practice)).toEqual([true, true]);
  }, 60_000);

  it('when it is recorded from the meters of the practice bench', async () => {
    const folder = testFolder();
    const instrument = 'practice:manometer=Manometer, one number a line';
    const recorded = await runCommand(
      ['record', '--instrument', instrument, '--for', '1s', '--out', 'visit.csv', '--json'],
      folder,
    );
    expect(jsonLines(recorded.out)).toMatchObject([{ status: 'complete', practice: true }]);
    expect(readFileSync(join(folder, 'visit.csv'), 'utf8')).toMatch(/^# practice: true\n/u);
  }, 60_000);
});
