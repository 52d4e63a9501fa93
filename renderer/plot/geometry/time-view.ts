/** What part of a recording the plots against time show. */
export interface TimeView {
  /** Seconds in view; undefined for all of it. */
  spanS: number | undefined;
  /** Seconds of the recording at the right edge; undefined follows the newest reading. */
  endS: number | undefined;
}

/** Less than this is not zoomed into, seconds: a few readings of a slow meter. */
const shortestS = 2;

/** A recording is shown whole in steps of so many seconds, up to a duration, seconds. */
const wholeSteps = [
  { untilS: 60, stepS: 60 },
  { untilS: 300, stepS: 30 },
  { untilS: 1800, stepS: 120 },
  { untilS: Infinity, stepS: 600 },
];

/**
 * Seconds that show a recording of `durationS` seconds whole, up to the next step: while it grows the axis changes now and then only, and
 * little of it is empty.
 */
export function wholeSpan(durationS: number): number {
  const { stepS } = wholeSteps.find(({ untilS }) => durationS < untilS)!;
  return Math.max(1, Math.ceil(durationS / stepS)) * stepS;
}

/** The view `factor` times as long about its middle, within a recording of `wholeS` seconds. */
export function zoomed(view: TimeView, factor: number, wholeS: number): TimeView {
  const before = Math.min(view.spanS ?? wholeS, wholeS);
  const spanS = Math.max(shortestS, before * factor);
  if (spanS >= wholeS) return { spanS: undefined, endS: undefined };
  // One that follows goes on to: its right edge is the newest reading.
  if (view.endS === undefined) return { spanS, endS: undefined };
  return within({ spanS, endS: view.endS - before / 2 + spanS / 2 }, wholeS);
}

/** The view moved by so many of its lengths, later above zero, within a recording of `wholeS` seconds. At its end it follows again. */
export function panned(view: TimeView, lengths: number, wholeS: number): TimeView {
  const spanS = view.spanS ?? wholeS;
  if (spanS >= wholeS) return { spanS: view.spanS, endS: undefined };
  return within({ spanS, endS: (view.endS ?? wholeS) + lengths * spanS }, wholeS);
}

/** A view that shows exactly from one moment to another, seconds; of one moment the shortest. */
export function between(fromS: number, toS: number): TimeView {
  const spanS = Math.max(shortestS, toS - fromS);
  return { spanS, endS: (fromS + toS) / 2 + spanS / 2 };
}

function within({ spanS, endS }: { spanS: number; endS: number }, wholeS: number): TimeView {
  if (endS >= wholeS) return { spanS, endS: undefined };
  return { spanS, endS: Math.max(endS, spanS) };
}

/** Moves of a pointer in the view by one press of a key, in shares of it. */
const keyShares: Readonly<Record<string, number>> = {
  ArrowLeft: -0.01,
  ArrowRight: 0.01,
  PageDown: -0.1,
  PageUp: 0.1,
  Home: -Infinity,
  End: Infinity,
};

/**
 * Where a key moves a pointer that stands at `atS`, in a view of `spanS` seconds that ends at `endS`, seconds of the recording; undefined for
 * a key that moves none.
 */
export function keyMove(key: string, atS: number, endS: number, spanS: number): number | undefined {
  const share = keyShares[key];
  if (share === undefined) return undefined;
  return Math.min(endS, Math.max(0, endS - spanS, atS + share * spanS));
}
