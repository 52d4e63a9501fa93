import { expect, it } from 'vitest';
import { addRow, emptyNormalForm, logEvidence } from '../../../shared/numerics/linear/evidence.ts';

/** Two readings, each of two coefficients and of a level that is known to 10. */
const first = { row: [1, 0.2, 1], value: 1.9 } as const;
const second = { row: [0.5, -1.1, 1], value: -0.4 } as const;
const levelDeviation = 10;

/** Logarithm of the normal density of both readings: their covariance is that of noise of 1, coefficients and level. From the definition. */
function logDensity(size: number): number {
  const covariance = (a: readonly number[], b: readonly number[]) =>
    size ** 2 * (a[0]! * b[0]! + a[1]! * b[1]!) + levelDeviation ** 2 * a[2]! * b[2]!;
  const [p, q, r] = [
    1 + covariance(first.row, first.row),
    covariance(first.row, second.row),
    1 + covariance(second.row, second.row),
  ] as const;
  const determinant = p * r - q * q;
  const [x, y] = [first.value, second.value];
  return -0.5 * (Math.log(determinant) + (r * x * x - 2 * q * x * y + p * y * y) / determinant);
}

it('the evidence is the probability of the readings with all unknowns integrated out', () => {
  const form = emptyNormalForm(3);
  for (const { row, value } of [first, second]) addRow(form, Float64Array.from(row), value, 1);
  addRow(form, Float64Array.of(0, 0, 1), 0, 1 / levelDeviation ** 2);
  for (const size of [0.1, 0.5, 2, 7])
    expect(logEvidence(form, 0, 2, size) - logEvidence(form, 0, 2, 1)).toBeCloseTo(
      logDensity(size) - logDensity(1),
      10,
    );
});

it('nothing is said of unknowns that no reading determines', () => {
  expect(logEvidence(emptyNormalForm(3), 0, 2, 1)).toBe(-Infinity);
});
