import type { Profile } from '../../model/profile.ts';
import type { Role } from '../../model/reading.ts';
import type { Habits } from './derive-pattern.ts';
import { inOrder, oneOrOther } from './derive-pattern.ts';
import { unitTextAfter } from './line-label.ts';
import type { Pointed } from './selection.ts';

/** A line format with its channels, to be tried. */
export interface Way {
  line: Profile['line'];
  channels: Profile['channels'];
}

// What loggers put between fields, the most telling first (common practice).
const delimiters = ['\t', ';', '|', ',', ' ', '/', ':', '='];
// These stand inside fields as well: they part fields only where nothing but a unit follows the number.
const weak = new Set([' ', '/', ':', '=']);

/** One channel for each role, in the order in which they were pointed at. */
const lineChannels = (places: readonly Pointed[], fieldOf?: (place: Pointed) => number): Profile['channels'] => {
  const byRole = new Map<Role, Pointed>();
  for (const place of places) if (!byRole.has(place.role)) byRole.set(place.role, place);
  return [...byRole.values()].map((place) => ({
    role: place.role,
    unit: place.unit,
    scale: 1,
    offset: 0,
    ...(fieldOf && { field: fieldOf(place) }),
  }));
};

/** The number of the field in which `from` lies, as the decoder counts. */
const fieldAt = (line: string, from: number, delimiter: string): number =>
  delimiter === ' '
    ? line.slice(0, from).trimStart().split(/ +/).length - 1
    : line.slice(0, from).split(delimiter).length - 1;

const mayPart = ({ line, to }: Pointed, delimiter: string): boolean => {
  if (!line.includes(delimiter)) return false;
  const after = line.slice(to).split(delimiter)[0]!;
  return !weak.has(delimiter) || after.trim() === '' || after === unitTextAfter(line, to);
};

/** Every way that may read the lines, the simplest first. Whether one does is for the caller to try. */
export function* waysToRead(places: readonly Pointed[], habits: Omit<Habits, 'units'>): Generator<Way> {
  const roles = new Set(places.map(({ role }) => role));
  if (roles.size === 1) yield { line: { format: 'number' }, channels: lineChannels(places) };
  for (const delimiter of delimiters) {
    if (!places.every((place) => mayPart(place, delimiter))) continue;
    const channels = lineChannels(places, ({ line, from }) => fieldAt(line, from, delimiter));
    const isOneField = new Set(channels.map(({ field }) => field)).size < channels.length;
    if (!isOneField) yield { line: { format: 'delimited', delimiter }, channels };
  }
  for (const units of [true, false])
    for (const pattern of [...inOrder(places, { ...habits, units }), ...oneOrOther(places, { ...habits, units })])
      if (pattern.length <= 400) yield { line: { format: 'pattern', pattern }, channels: lineChannels(places) };
}
