/**
 * exp and log from additions, multiplications and divisions only, which IEEE 754 rounds alike everywhere: those of
 * `Math` may differ in the last digit from engine to engine, and a fit carries such a digit into its answer.
 *
 * Errors are below one unit in the last place. Source of method and coefficients: FDLIBM 5.3 (Sun Microsystems 1993,
 * freely usable), e_exp.c and e_log.c.
 */

const ln2High = 6.9314718036912381649e-1;
const ln2Low = 1.90821492927058770002e-10;

const double = new Float64Array(1);
const words = new Uint32Array(double.buffer);
/** Which of both words holds sign and exponent. */
const upper = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1 ? 1 : 0;
const lower = 1 - upper;

/** 2 to the whole powers from -1022 to 1023; each is exact. */
const powers = Float64Array.from({ length: 2046 }, (_, i) => {
  words[upper] = (i + 1) << 20;
  words[lower] = 0;
  return double[0]!;
});

const powerOfTwo = (k: number): number => powers[k + 1022]!;

/** e to the power of x. */
export function exp(x: number): number {
  if (!(x < 709.782712893384)) return x > 0 ? Infinity : x;
  if (x < -745.1332191019411) return 0;
  // x = k ln 2 + r with |r| <= ln 2 / 2, r in two parts.
  const k = Math.floor(x * Math.LOG2E + 0.5);
  const high = x - k * ln2High;
  const low = k * ln2Low;
  const r = high - low;
  const t = r * r;
  const c =
    r -
    t *
      (1.66666666666666019037e-1 +
        t *
          (-2.77777777770155933842e-3 +
            t * (6.61375632143793436117e-5 + t * (-1.6533902205465251539e-6 + t * 4.13813679705723846039e-8))));
  const y = 1 - (low - (r * c) / (2 - c) - high);
  if (k >= -1021 && k <= 1023) return y * powerOfTwo(k);
  // Subnormal results, and the last power below the overflow, in two steps.
  return k > 0 ? y * 2 * powerOfTwo(k - 1) : y * powerOfTwo(k + 100) * powerOfTwo(-100);
}

/** Natural logarithm. */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? -Infinity : Number.NaN;
  if (x === Infinity) return x;
  let k = 0;
  let scaled = x;
  // Subnormal numbers, and the largest, whose power of two has no normal reciprocal, from further inside.
  if (x < 2.2250738585072014e-308) {
    scaled *= 18014398509481984;
    k = -54;
  } else if (x > 1e300) {
    scaled /= 18014398509481984;
    k = 54;
  }
  double[0] = scaled;
  const bits = words[upper]!;
  // x = 2^k (1 + f) with 1 + f between the roots of 1/2 and of 2.
  const isUpperHalf = ((bits & 0xfffff) + 0x95f64) >>> 20;
  const power = (bits >>> 20) - 1023 + isUpperHalf;
  k += power;
  const f = scaled * powerOfTwo(-power) - 1;
  const s = f / (2 + f);
  const z = s * s;
  const w = z * z;
  const odd = w * (3.999999999940941908e-1 + w * (2.222219843214978396e-1 + w * 1.531383769920937332e-1));
  const even =
    z *
    (6.66666666666673513e-1 +
      w * (2.857142874366239149e-1 + w * (1.818357216161805012e-1 + w * 1.479819860511658591e-1)));
  const square = 0.5 * f * f;
  return k * ln2High - (square - (s * (square + (even + odd)) + k * ln2Low) - f);
}

/**
 * log(1 + x), exact for small x as well: the rounding of 1 + x cancels in the quotient.
 * Source: Goldberg 1991, ACM Computing Surveys 23, 5, theorem 4.
 */
export function log1p(x: number): number {
  const u = 1 + x;
  return u === 1 || u === Infinity ? x : (log(u) * x) / (u - 1);
}
