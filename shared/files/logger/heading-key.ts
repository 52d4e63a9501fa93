import { proposeMapping } from './propose-mapping.ts';

/** Longest line that stands for a heading, characters. */
const longestKey = 10_000;
/** Lines in which the heading is looked for: it stands near the beginning. */
const searchedLines = 300;

/**
 * By what a mapping is remembered: the heading and the line of units as they are found without any mapping, so that it is the same for
 * the next file of that logger; where no heading is found, the first line, if it is no data. Undefined where nothing tells one logger
 * from another.
 */
export function headingKey(text: string): string | undefined {
  const lines = text.split('\n', searchedLines);
  const proposed = proposeMapping('', lines.join('\n'));
  if (proposed.ok) {
    const { names, units } = proposed.value.heading;
    return JSON.stringify(units.length > 0 ? [names, units] : [names]).slice(0, longestKey);
  }
  const first = (lines.find((line) => line.trim() !== '') ?? '').trim();
  return /^\p{L}/u.test(first) ? first.slice(0, longestKey) : undefined;
}
