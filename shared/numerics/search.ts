/**
 * The first index below `count` for which `holds` is true, found by halving; `count` where it is for none. It must be true of all indices
 * after one for which it is, as of a limit in numbers that rise.
 */
export function firstIndexWhere(count: number, holds: (i: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
