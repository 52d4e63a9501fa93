/** The place of the name of one end: where its text begins or ends, and the row that it stands in. Pixels. */
export interface EndLabel {
  x: number;
  anchor: 'start' | 'end';
  row: 0 | 1;
}

/** Between an end and its name, and the width of a character of the name at most, pixels. */
const gap = 6;
const characterWidth = 9;

/** From one row of names to the next, pixels. */
export const rowHeight = 18;

const extentOf = ({ x, anchor }: EndLabel, width: number): [number, number] =>
  anchor === 'start' ? [x, x + width] : [x - width, x];

/**
 * Places the names of both ends beside them: outside the window, unless the plot ends there. Where one would be printed over the other,
 * that of the high end goes one row down.
 */
export function endLabels(
  ends: { low?: { at: number; text: string }; high?: { at: number; text: string } },
  [left, right]: readonly [number, number],
): { low?: EndLabel; high?: EndLabel } {
  const place = (side: 'low' | 'high'): { label: EndLabel; extent: [number, number] } | undefined => {
    const end = ends[side];
    if (!end) return undefined;
    const width = end.text.length * characterWidth;
    const isOutside = side === 'low' ? end.at - gap - width > left : end.at + gap + width < right;
    const isLeft = (side === 'low') === isOutside;
    const label: EndLabel = { x: isLeft ? end.at - gap : end.at + gap, anchor: isLeft ? 'end' : 'start', row: 0 };
    return { label, extent: extentOf(label, width) };
  };
  const [low, high] = [place('low'), place('high')];
  const meet = low && high && low.extent[0] < high.extent[1] && high.extent[0] < low.extent[1];
  return {
    ...(low && { low: low.label }),
    ...(high && { high: meet ? { ...high.label, row: 1 as const } : high.label }),
  };
}

/**
 * Places a name beside a point so that it is neither cut by an edge of the plot nor printed over a name of an end: moved in where it would be
 * cut, and down until it is free.
 *
 * @param wanted  where it would stand, its height in pixels from the top of the plot
 * @param named   the names of the ends, and their texts; the first row stands one row below the top
 */
export function freeLabel(
  wanted: { x: number; anchor: 'start' | 'end'; y: number; text: string },
  named: readonly { label: EndLabel; text: string }[],
  [left, right]: readonly [number, number],
): { x: number; anchor: 'start' | 'end'; y: number } {
  const width = wanted.text.length * characterWidth;
  const [from] = extentOf({ ...wanted, row: 0 }, width);
  const start = Math.max(left, Math.min(from, right - width));
  const overlaps = (y: number) =>
    named.some(({ label, text }) => {
      const [l, r] = extentOf(label, text.length * characterWidth);
      return l < start + width && start < r && Math.abs(y - rowHeight * (label.row + 1)) < rowHeight;
    });
  let { y } = wanted;
  while (overlaps(y)) y += 2;
  return start === from ? { x: wanted.x, anchor: wanted.anchor, y } : { x: start, anchor: 'start', y };
}
