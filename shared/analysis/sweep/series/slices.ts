/**
 * The values of readings, sorted into slices of pressure of equal width; those outside are left out. What lies on the upper limit belongs to
 * the last slice, so that no reading of the highest pressure is lost.
 *
 * @param pressure, value  per reading, same length
 * @returns `count` lists, from the lowest pressure to the highest
 */
export function slicesOf(
  pressure: Float64Array,
  value: Float64Array,
  [low, high]: readonly [number, number],
  count: number,
): number[][] {
  const slices: number[][] = Array.from({ length: count }, () => []);
  const width = (high - low) / count;
  pressure.forEach((p, i) => {
    if (p >= low && p <= high) slices[Math.min(count - 1, Math.floor((p - low) / width))]?.push(value[i]!);
  });
  return slices;
}
