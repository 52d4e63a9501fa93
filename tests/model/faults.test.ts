import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { fault, faultCodes } from '../../shared/model/faults.ts';

const tests = join(import.meta.dirname, '..');

it('every fault is named by its code in a test', () => {
  const files = globSync('**/*.{test,spec}.ts', { cwd: tests }).filter(
    (file) => file !== join('model', 'faults.test.ts'),
  );
  expect(files.length).toBeGreaterThan(100);
  const sources = files.map((file) => readFileSync(join(tests, file), 'utf8')).join('\n');
  const named = new Set(Array.from(sources.matchAll(/'([a-z]+(?:-[a-z]+)*)'/gu), ([, word]) => word));
  expect(faultCodes.filter((code) => !named.has(code))).toEqual([]);
});

it('a meter without a reading is not said to lack a current, and sentences are in US English', () => {
  expect(fault('meter-no-reading', { meter: 'flame signal meter' }).message).toBe(
    'The flame signal meter gives no reading now. Check its cable and its display.',
  );
  const isComment = (line: string) => /^\s*(?:\*|\/\*|\/\/)/u.test(line);
  const said = globSync('{shared,electron,renderer}/**/*.{ts,tsx}', { cwd: join(tests, '..') })
    .flatMap((file) => readFileSync(join(tests, '..', file), 'utf8').split('\n'))
    .filter((line) => !isComment(line))
    .map((line) => line.replace(/\/\/.*$/u, ''));
  expect(said.length).toBeGreaterThan(10_000);
  expect(said.filter((line) => /\bany more\b/u.test(line))).toEqual([]);
});

it('a calculation that the system has stopped says so without the name of a signal, and what to do', () => {
  const said = (reason: string) => fault('job-process-ended', { what: 'The analysis', reason }).message;
  expect(said('signal SIGKILL')).toContain('stopped from outside');
  expect(said('signal SIGKILL')).toContain('Close other programs');
  expect(said('signal SIGKILL')).not.toMatch(/SIG|want of/u);
  expect(said('exit code 1')).toContain('ended without an answer (exit code 1)');
});
