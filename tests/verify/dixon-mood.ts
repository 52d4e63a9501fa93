import type { Response } from '../../shared/light-off/sensitivity/up-and-down.ts';

export interface DixonMood {
  /** The result that was rarer, of which there were `count`; `base`: its lowest level. */
  event: 'response' | 'no response';
  base: number;
  count: number;
  a: number;
  b: number;
  m: number;
  mean: number;
  sd: number;
}

/**
 * Mean and standard deviation of the threshold from an up-and-down test, by the rarer result: y0 + d (A / N -+ 1/2) and
 * 1.620 d (M + 0.029), or 0.53 d where M is 0.3 or less. Source: Dixon and Mood 1948, JASA 43, 109.
 *
 * @param step  d; levels are rounded to whole steps from the lowest of the rarer result
 * Undefined where one of the results never came.
 */
export function dixonMood(trials: readonly Response[], step: number): DixonMood | undefined {
  const responses = trials.filter(({ responded }) => responded);
  const event = 2 * responses.length <= trials.length ? 'response' : 'no response';
  const rarer = event === 'response' ? responses : trials.filter(({ responded }) => !responded);
  if (rarer.length === 0) return undefined;
  const base = Math.min(...rarer.map(({ level }) => level));
  const indices = rarer.map(({ level }) => Math.round((level - base) / step));
  const count = rarer.length;
  const a = indices.reduce((sum, i) => sum + i, 0);
  const b = indices.reduce((sum, i) => sum + i * i, 0);
  const m = (count * b - a * a) / count ** 2;
  return {
    event,
    base,
    count,
    a,
    b,
    m,
    mean: base + step * (a / count + (event === 'response' ? -0.5 : 0.5)),
    sd: m > 0.3 ? 1.62 * step * (m + 0.029) : 0.53 * step,
  };
}
