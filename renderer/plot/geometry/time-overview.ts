import type { LiveColumn } from '../../state/live/live-buffer.ts';
import { usualPauseS } from './decimate.ts';
import { firstIndexWhere } from '../../../shared/numerics/search.ts';

/** Readings up to this many are drawn as they are. */
const mostReadings = 4000;
/** Widths of the spans of time that stand for their readings, seconds. */
const widthsS = [0.25, 1, 4, 16, 64, 256];
/** The narrowest width is taken that leaves at most so many spans in view: more than a screen has pixels beside each other. */
const mostSpans = 1500;

/** Which readings stand for a part of a column. */
export interface Picked {
  /** Places in the column, ascending. */
  places: ArrayLike<number>;
  /** A longer pause between two of them is a gap between readings, seconds. */
  pauseS: number;
}

/**
 * Readings that stand for a growing column against time: of each short span the first, the lowest, the highest, the last, and one that is
 * no number, where a line breaks. No extreme is lost, and an hour costs no more to draw than a minute.
 */
export function createTimeOverview(): {
  /** @param from  the first place in view  @param spanS  the time in view, seconds  @param until  the place after the last in view */
  pick(column: LiveColumn, from: number, spanS: number, until?: number): Picked;
} {
  let levels = newLevels();
  let seen = 0;
  let shifts = 0;
  return {
    pick(column, from, spanS, until = column.length) {
      if (column.shifts !== shifts) {
        levels = newLevels();
        seen = 0;
        shifts = column.shifts;
      }
      for (; seen < column.length; seen += 1) for (const level of levels) add(level, column, seen);
      if (until - from <= mostReadings)
        return {
          places: Array.from({ length: Math.max(0, until - from) }, (_, i) => from + i),
          pauseS: usualPauseS,
        };
      const level = levels.find(({ widthS }) => spanS / widthS <= mostSpans) ?? levels.at(-1)!;
      const places = level.closed.slice(firstFrom(level.closed, from), firstFrom(level.closed, until));
      if (level.open) places.push(...placesOf(level.open).filter((place) => place >= from && place < until));
      return { places, pauseS: Math.max(usualPauseS, level.widthS) };
    },
  };
}

/** A span that still gets readings: their places. */
interface Open {
  number: number;
  first: number;
  lowest: number;
  highest: number;
  last: number;
  gap: number;
}
interface Level {
  widthS: number;
  /** What stands for the spans before the open one. */
  closed: number[];
  open: Open | undefined;
}

const newLevels = (): Level[] => widthsS.map((widthS) => ({ widthS, closed: [], open: undefined }));

function add(level: Level, column: LiveColumn, place: number): void {
  const number = Math.floor(column.elapsedS[place]! / level.widthS);
  const value = column.value[place]!;
  const isGap = Number.isNaN(value);
  if (level.open?.number !== number) {
    if (level.open) level.closed.push(...placesOf(level.open));
    level.open = { number, first: place, lowest: place, highest: place, last: place, gap: isGap ? place : -1 };
    return;
  }
  const { open } = level;
  open.last = place;
  if (isGap) open.gap = place;
  // Also from one that is no number to the first that is.
  else if (!(value >= column.value[open.lowest]!)) open.lowest = place;
  if (!isGap && !(value <= column.value[open.highest]!)) open.highest = place;
}

const placesOf = ({ first, lowest, highest, last, gap }: Open): number[] =>
  [...new Set([first, lowest, highest, last, ...(gap >= 0 ? [gap] : [])])].sort((a, b) => a - b);

/** Where in ascending places the first one from `from` on is. */
const firstFrom = (places: readonly number[], from: number): number =>
  firstIndexWhere(places.length, (i) => places[i]! >= from);
