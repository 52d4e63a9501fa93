import { normalCdf } from '../../numerics/distributions.ts';
import { exp } from '../../numerics/elementary.ts';
import type { Response } from './up-and-down.ts';

const density = (z: number): number => exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/**
 * Maximum likelihood of a normal threshold by Fisher scoring on intercept and slope. Undefined where responses and others do not overlap,
 * so that there is no maximum, or where the slope is not positive.
 */
export function fitProbit(trials: readonly Response[]): { mu: number; sigma: number } | undefined {
  const levels = trials.map(({ level }) => level);
  const center = levels.reduce((sum, x) => sum + x, 0) / levels.length;
  const scale = Math.max(...levels) - Math.min(...levels);
  let [a, b] = [0, 0];
  for (let round = 0; round < 200; round += 1) {
    let [s0, s1, i00, i01, i11] = [0, 0, 0, 0, 0];
    for (const { level, responded } of trials) {
      const x = (level - center) / scale;
      const z = a + b * x;
      const p = Math.min(1 - 1e-12, Math.max(1e-12, normalCdf(z)));
      const weight = density(z) / (p * (1 - p));
      const score = weight * (Number(responded) - p);
      s0 += score;
      s1 += score * x;
      const information = weight * density(z);
      i00 += information;
      i01 += information * x;
      i11 += information * x * x;
    }
    const det = i00 * i11 - i01 * i01;
    if (!(det > 0)) return undefined;
    const [da, db] = [(i11 * s0 - i01 * s1) / det, (i00 * s1 - i01 * s0) / det];
    const share = Math.min(1, 1 / Math.max(Math.abs(da), Math.abs(db), 1e-300));
    a += share * da;
    b += share * db;
    if (Math.abs(b) > 1e4) return undefined;
    if (Math.max(Math.abs(da), Math.abs(db)) < 1e-13) break;
  }
  return b > 0 ? { mu: center - (a / b) * scale, sigma: scale / b } : undefined;
}
