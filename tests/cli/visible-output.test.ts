import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { visibleText } from '../../shared/model/visible-text.ts';
import { callCommand } from '../helpers/call-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

// ECMA-48: ESC ] sets the title of the terminal, ESC [ 2 J clears it, U+009B is ESC [ in one character.
const steering = '\u001b]0;owned\u0007\u001b[2J\u009b31m\u202e';
const controls = /[^\P{Cc}\n\t]|\u202e/u;

it('control characters of a file do not reach the terminal, and are seen', async () => {
  const folder = testFolder();
  writeFileSync(join(folder, 'x.csv'), `elapsed_s,pilot_pressure_inH2O,${steering}_V\n0,1,2\n`);
  writeFileSync(join(folder, 'x.setup.json'), JSON.stringify({ [steering]: 1 }));
  for (const args of [
    ['analyze', 'x.csv'],
    ['analyze', 'x.csv', '--json'],
    ['analyze', `${steering}.csv`],
  ]) {
    const { out, err } = await callCommand(args, folder);
    expect(out + err).not.toMatch(controls);
    expect(out + err).toContain(String.raw`\u001b`);
  }
}, 20_000);

it('JSON that is printed stays the same value', () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.string(), (value, text) => {
      const json = JSON.stringify({ value, text: text + steering });
      expect(visibleText(json)).not.toMatch(controls);
      expect(JSON.parse(visibleText(json))).toEqual(JSON.parse(json));
    }),
  );
});
