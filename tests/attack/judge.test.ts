import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { attacks } from './attacks.ts';
import type { Attack } from './attacks.ts';
import { asTable, judge } from './judge.ts';

const attack: Attack = { by: 'file', tried: 'a bad file', tests: 'tests/a.test.ts', titled: /bad/ };
const report = (...tests: [title: string, status: string][]) => ({
  testResults: [
    {
      name: '/checkout/tests/a.test.ts',
      status: tests.every(([, status]) => status === 'passed') ? 'passed' : 'failed',
      assertionResults: tests.map(([fullName, status]) => ({ fullName, status, duration: 1500 })),
    },
  ],
});

describe('an attack', () => {
  it('is held when its tests pass, whatever becomes of others in the same file', () => {
    expect(judge(attack, report(['a bad file', 'passed'], ['a good file', 'failed']), '/checkout')).toMatchObject({
      held: true,
      times: 1,
      seconds: 1.5,
    });
  });

  it.each(['failed', 'skipped', 'pending'])('is not held when one of its tests %s', (status) => {
    const verdict = judge(attack, report(['a bad file', 'passed'], ['another bad file', status]), '/checkout');
    expect([verdict.held, verdict.times]).toEqual([false, 2]);
    expect(asTable([verdict])).toContain('NOT HELD');
  });

  it('is not held when no test tries it, and when its file cannot be loaded', () => {
    for (const nothing of [report(['a good file', 'passed']), report(), { testResults: [] }]) {
      const verdict = judge(attack, nothing, '/checkout');
      expect(verdict.held).toBe(false);
      expect(asTable([verdict])).toContain('NOT TRIED');
    }
  });

  it('has tests in a place that exists', () => {
    const root = join(import.meta.dirname, '..', '..');
    expect(attacks.map(({ tests }) => tests).filter((place) => !existsSync(join(root, place)))).toEqual([]);
  });
});
