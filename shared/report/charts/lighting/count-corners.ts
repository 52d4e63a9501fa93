import type { TriedPlace } from './lighting-places.ts';

/** Where beside its mark a count stands. */
export interface Corner {
  side: 'left' | 'right';
  row: 'above' | 'below';
}

/** Room that a count of two digits takes, and how far from its mark's center it begins, pixels. */
const width = 24;
const height = 12;
const awayPx = 7;
/** Half the size of a mark, pixels. */
const markPx = 6;

const corners: readonly Corner[] = [
  { side: 'right', row: 'above' },
  { side: 'left', row: 'above' },
  { side: 'right', row: 'below' },
  { side: 'left', row: 'below' },
];

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;

function boxAt({ x, y }: Pick<TriedPlace, 'x' | 'y'>, { side, row }: Corner): Box {
  const left = side === 'right' ? x + awayPx : x - awayPx - width;
  const top = row === 'above' ? y - 3 - height : y + 3;
  return { left, right: left + width, top, bottom: top + height };
}

const markBox = ({ x, y }: Pick<TriedPlace, 'x' | 'y'>): Box => ({
  left: x - markPx,
  right: x + markPx,
  top: y - markPx,
  bottom: y + markPx,
});

/**
 * A corner for the count of each place, in their order, in which it covers no mark and no other count; the usual one where there is none.
 * Undefined for a place without a count.
 */
export function countCorners(
  places: readonly Pick<TriedPlace, 'x' | 'y' | 'count' | 'beside'>[],
): (Corner | undefined)[] {
  const marks = places.map(markBox);
  const counts: Box[] = [];
  return places.map((place) => {
    if (place.count < 2) return undefined;
    // Beside its neighbor a mark has its count on the far side.
    const wanted = corners.filter(({ side }) => side === (place.beside ?? side));
    const isFree = (corner: Corner) => {
      const box = boxAt(place, corner);
      return ![...marks, ...counts].some((other) => overlap(box, other));
    };
    const corner = wanted.find(isFree) ?? wanted[0]!;
    counts.push(boxAt(place, corner));
    return corner;
  });
}
