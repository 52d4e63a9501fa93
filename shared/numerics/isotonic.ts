/**
 * Isotonic regression: the weighted least-squares fit that never falls, one level for each value.
 * Source: Barlow, Bartholomew, Bremner and Brunk 1972, Statistical Inference under Order Restrictions (pool adjacent
 * violators).
 *
 * @param weights  positive, same length as `values`
 */
export function isotonic(values: Float64Array, weights: Float64Array): Float64Array {
  const level = new Float64Array(values.length);
  const weight = new Float64Array(values.length);
  const size = new Int32Array(values.length);
  let blocks = 0;
  for (let i = 0; i < values.length; i += 1) {
    level[blocks] = values[i]!;
    weight[blocks] = weights[i]!;
    size[blocks] = 1;
    blocks += 1;
    while (blocks > 1 && level[blocks - 2]! >= level[blocks - 1]!) {
      const total = weight[blocks - 2]! + weight[blocks - 1]!;
      level[blocks - 2] = (level[blocks - 2]! * weight[blocks - 2]! + level[blocks - 1]! * weight[blocks - 1]!) / total;
      weight[blocks - 2] = total;
      size[blocks - 2]! += size[blocks - 1]!;
      blocks -= 1;
    }
  }
  const fitted = new Float64Array(values.length);
  let at = 0;
  for (let block = 0; block < blocks; block += 1) {
    fitted.fill(level[block]!, at, at + size[block]!);
    at += size[block]!;
  }
  return fitted;
}

/** Cumulative weighted squared error of isotonic fits to the first 1, 2, ... n values. */
function prefixErrors(values: Float64Array, weights: Float64Array): Float64Array {
  const n = values.length;
  const errors = new Float64Array(n + 1);
  const level = new Float64Array(n);
  const weight = new Float64Array(n);
  const error = new Float64Array(n);
  let blocks = 0;
  for (let i = 0; i < n; i += 1) {
    level[blocks] = values[i]!;
    weight[blocks] = weights[i]!;
    error[blocks] = 0;
    blocks += 1;
    while (blocks > 1 && level[blocks - 2]! >= level[blocks - 1]!) {
      const w1 = weight[blocks - 2]!;
      const w2 = weight[blocks - 1]!;
      const gap = level[blocks - 2]! - level[blocks - 1]!;
      error[blocks - 2]! += error[blocks - 1]! + (gap * gap * w1 * w2) / (w1 + w2);
      level[blocks - 2] = (level[blocks - 2]! * w1 + level[blocks - 1]! * w2) / (w1 + w2);
      weight[blocks - 2] = w1 + w2;
      blocks -= 1;
    }
    let total = 0;
    for (let block = 0; block < blocks; block += 1) total += error[block]!;
    errors[i + 1] = total;
  }
  return errors;
}

/**
 * Unimodal regression: the weighted least-squares fit that rises, then falls. It has the split with the smallest error of a
 * rising fit on its left and a falling fit on its right.
 * Source: Frisen 1986, The Statistician 35, 479.
 *
 * @param weights  positive, same length as `values`
 */
export function unimodal(values: Float64Array, weights: Float64Array): Float64Array {
  const n = values.length;
  const left = prefixErrors(values, weights);
  const right = prefixErrors(values.toReversed(), weights.toReversed());
  let split = 0;
  for (let i = 1; i <= n; i += 1) if (left[i]! + right[n - i]! < left[split]! + right[n - split]!) split = i;
  const fitted = new Float64Array(n);
  fitted.set(isotonic(values.subarray(0, split), weights.subarray(0, split)));
  fitted.set(isotonic(values.slice(split).toReversed(), weights.slice(split).toReversed()).toReversed(), split);
  return fitted;
}
