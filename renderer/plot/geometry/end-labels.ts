/** The place of the name of one end: where its text begins or ends, and the row that it stands in. Pixels. */
export interface EndLabel {
  x: number;
  anchor: 'start' | 'end';
  row: 0 | 1;
}

/** Between an end and its name, and the width of a character of the name at most, pixels. */
const gap = 6;
const characterWidth = 9;

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
