import { describe, expect, it } from 'vitest';
import { callCommand } from '../helpers/call-command.ts';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { writeSample } from './sample-sweep.ts';

// Most tests of the commands call them in a process that stays; each command is also run here as a person runs it.
describe('a command in a process of its own', () => {
  it.each([
    ['analyze', ['analyze', 'visit.csv', 'missing.csv', '--json']],
    ['analyze, for people', ['analyze', 'visit.csv']],
    ['advise', ['advise', 'visit.csv', '--json']],
    ['compare', ['compare', 'visit.csv', 'visit.csv', '--json']],
    ['convert', ['convert', 'visit.csv', 'visit.zip']],
    ['simulate', ['simulate', '--seed', '7', '--out', 'drawn.csv']],
    ['report', ['report', 'visit.csv', '--out', 'report.html']],
    ['captures, without a store', ['captures', '--json']],
    ['export, without a store', ['export', 'nothing', '--out', 'out.zip']],
    ['no command', ['prove']],
    ['an option that is not known', ['analyze', '--what']],
    ['help', ['--help']],
  ])('says and writes the same as one that is called: %s', async (_, args) => {
    const [own, called] = [testFolder(), testFolder()];
    writeSample(own, 'visit');
    writeSample(called, 'visit');
    const expected = await runCommand(args, own);
    const same = await callCommand(args, called);
    const named = (text: string, folder: string) => text.replaceAll(folder, 'FOLDER');
    expect({ ...same, out: named(same.out, called), err: named(same.err, called) }).toEqual({
      ...expected,
      out: named(expected.out, own),
      err: named(expected.err, own),
    });
  });

  it('imports what another one lists', async () => {
    const folder = testFolder();
    writeSample(folder, 'visit');
    expect((await runCommand(['import', 'visit.csv'], folder)).status).toBe(0);
    const listed = await callCommand(['captures', '--json'], folder);
    expect(listed).toEqual(await runCommand(['captures', '--json'], folder));
    expect(listed.out).toContain('"id"');
  });
});
