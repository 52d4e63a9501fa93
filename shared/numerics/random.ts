import { log } from './elementary.ts';

/** A stream of pseudo-random numbers that is the same for the same seed in every engine. */
export interface Random {
  /** Uniform in [0, 1), 32 bits. */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * Seeded generator; integer arithmetic only, so every engine gives the same stream.
 *
 * @param seed  a whole number; its lower 32 bits count
 * Source: sfc32 of PractRand (C. Doty-Humphrey), seeded through splitmix32; normals by the polar method
 * (Marsaglia and Bray 1964, SIAM Review 6, 260).
 */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x9e3779b9) | 0;
    let z = state ^ (state >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z ^= z >>> 15;
    z = Math.imul(z, 0x735a2d97);
    return z ^ (z >>> 15);
  };
  let a = next();
  let b = next();
  let c = next();
  let counter = 1;
  let spare = Number.NaN;

  const uniform = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return (sum >>> 0) / 4294967296;
  };
  for (let i = 0; i < 12; i += 1) uniform();

  const normal = (): number => {
    if (!Number.isNaN(spare)) {
      const value = spare;
      spare = Number.NaN;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const factor = Math.sqrt((-2 * log(square)) / square);
      spare = y * factor;
      return x * factor;
    }
  };
  return { uniform, normal };
}
