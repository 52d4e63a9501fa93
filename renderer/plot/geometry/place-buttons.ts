/** A button under a time line: where it begins and how wide it is, pixels. */
export interface PlacedButton {
  left: number;
  width: number;
}

/**
 * Places buttons under the spans they stand for, none over another: each as wide as its span and at least `least`, so that a finger can
 * find it, and pushed aside no further than needed. Where all of them have no room, they share it evenly.
 *
 * @param spans  begin and end of each, pixels, in rising order of their begin
 * @param width  pixels from 0 that there are
 */
export function placeButtons(
  spans: readonly (readonly [from: number, to: number])[],
  width: number,
  least: number,
): PlacedButton[] {
  const share = Math.min(least, width / Math.max(1, spans.length));
  const lefts: number[] = [];
  // To the right, as far as the one before asks for; then back from the right edge.
  for (const [i, [from, to]] of spans.entries()) {
    const wanted = Math.max(0, Math.min(from, (from + to) / 2 - share / 2));
    lefts.push(Math.max(wanted, i === 0 ? 0 : lefts[i - 1]! + share));
  }
  for (let i = lefts.length - 1, right = width; i >= 0; i--) {
    lefts[i] = Math.min(lefts[i]!, right - share);
    right = lefts[i]!;
  }
  return lefts.map((left, i) => {
    const right = Math.min(lefts[i + 1] ?? width, Math.max(left + share, spans[i]![1]));
    return { left, width: right - left };
  });
}
