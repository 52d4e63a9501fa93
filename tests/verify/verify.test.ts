import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { agrees, type Check, type Compared, digitsOf, isCompared, judge } from './check.ts';
import { checks } from './checks.ts';
import { nistNonlinear } from './nist-nonlinear.ts';
import { asJson, asMarkdown, asTable } from './report.ts';

// Sources, files and tolerances stand with each check; `npm run verify` prints them.
describe.each([...Map.groupBy(checks, ({ subject }) => subject)])('%s', (_, group) => {
  it.each(group)('$name agrees with $source', (check) => {
    const { rows, passed } = judge(check);
    expect(rows.filter((row) => isCompared(row) && !agrees(row))).toEqual([]);
    expect(passed).toBe(true);
  });
});

describe('the NIST nonlinear sets', () => {
  it('are all 27', () => expect(nistNonlinear).toHaveLength(27));

  const unconverged = (start: string) =>
    nistNonlinear.filter((check) => check.run().some((row) => !isCompared(row) && row.quantity === start));

  it('are all solved from the near start', () => expect(unconverged('start 2').map(({ name }) => name)).toEqual([]));

  it('are solved from at least 24 of the 27 far starts', () => {
    // Three may be given up: NIST chose the far starts to be hard, and lmder of MINPACK, a search of the same kind, fails from
    // a few of them too (from memory). A wrong answer is a failure above, from any start.
    expect(27 - unconverged('start 1').length).toBeGreaterThanOrEqual(24);
  });
});

describe('the checks', () => {
  it('use every file of tests/reference', () => {
    const files = readdirSync(new URL('../reference', import.meta.url)).map((file) => file.replace('.json', ''));
    expect([...new Set(checks.map(({ file }) => file))].sort()).toEqual(files.sort());
  });

  const row = (found: number, tolerance: Compared['tolerance'], expected = 2): Compared => ({
    quantity: 'q',
    expected,
    found,
    tolerance,
  });
  const check = (rows: Compared[]): Check => ({
    subject: 's',
    name: 'n',
    of: 'f',
    source: 'a book',
    origin: 'computed',
    file: 'isotonic',
    run: () => rows,
  });

  it('tell agreement from disagreement, and never take NaN for agreement', () => {
    expect(agrees(row(2.00001, { relative: 1e-5 }))).toBe(true);
    expect(agrees(row(2.00003, { relative: 1e-5 }))).toBe(false);
    expect(agrees(row(2.00002, { absolute: 1e-5 }))).toBe(false);
    expect(agrees(row(Number.NaN, { relative: 1 }))).toBe(false);
    expect(agrees(row(Number.NaN, { absolute: 1 }))).toBe(false);
    expect(agrees(row(2 + 1e-15, 'exact'))).toBe(false);
  });

  it('count digits from the relative error', () => {
    expect(digitsOf(row(2.002, { relative: 0.1 }))).toBeCloseTo(3, 9);
    expect(digitsOf(row(2, { relative: 0.1 }))).toBe(15);
    expect(digitsOf(row(1e-4, { absolute: 0.1 }, 0))).toBeCloseTo(4, 9);
    expect(digitsOf(row(Number.NaN, { relative: 0.1 }))).toBe(0);
  });

  it('fail when one value is off or none is compared, and say which', () => {
    const off = judge(check([row(2, 'exact'), row(3, 'exact')]));
    expect(off.passed).toBe(false);
    expect(judge(check([])).passed).toBe(false);
    for (const text of [asTable([off]), asMarkdown([off])]) {
      expect(text).toContain('FAIL (1 of 2)');
      expect(text).toContain('expected 2, found 3');
    }
    expect(JSON.parse(asJson([off]))).toMatchObject({
      passed: false,
      checks: [{ values: [{ passed: true }, { passed: false }] }],
    });
  });
});
