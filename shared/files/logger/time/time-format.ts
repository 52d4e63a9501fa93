/** A moment in seconds: of the day when `hasDate` is false, else since 1970-01-01 in the file's own time (UTC where it gives a zone). */
export interface TimeFormat {
  format: string;
  hasDate: boolean;
  /** NaN where the text is no such time. */
  read(text: string): number;
}

const pieces: Record<string, string> = {
  yyyy: '(?<year>\\d{4})',
  yy: '(?<year>\\d{2})',
  MM: '(?<month>\\d{1,2})',
  M: '(?<month>\\d{1,2})',
  dd: '(?<day>\\d{1,2})',
  d: '(?<day>\\d{1,2})',
  HH: '(?<hour>\\d{1,2})',
  H: '(?<hour>\\d{1,2})',
  hh: '(?<hour>\\d{1,2})',
  h: '(?<hour>\\d{1,2})',
  mm: '(?<minute>\\d{2})',
  m: '(?<minute>\\d{1,3})',
  ss: '(?<second>\\d{2})(?:[.,](?<part>\\d{1,9}))?',
  s: '(?<second>\\d{1,2})(?:[.,](?<part>\\d{1,9}))?',
  a: '(?<half>[ap])\\.?\\s?m\\.?',
  XXX: '(?<zone>Z|[+-]\\d{2}:?\\d{2})',
};

/**
 * A format of date and time: yyyy, yy (2000 to 2099), MM, dd, HH or hh with a (AM/PM), mm, ss, SSS, XXX (Z or +01:00); text
 * between ' as it is. Seconds may always have a fraction, with point or comma. Undefined when it is no such format.
 * Source of the letters: Unicode Technical Standard 35, part 4, date format patterns.
 */
export function timeFormat(format: string): TimeFormat | undefined {
  let pattern = '';
  let plain = format.replace(/ss?[.,:]S+/u, (found) => (found.includes(':') ? found : found.replace(/[.,]S+$/u, '')));
  const used = new Set<string>();
  while (plain !== '') {
    const piece = /^(?:'([^']*)'|(y+|M+|d+|H+|h+|m+|s+|a|X+)|:S+|(\s+)|([^A-Za-z]|T))/u.exec(plain);
    if (!piece) return undefined;
    const [whole, quoted, letters, space, sign] = piece;
    if (letters !== undefined) {
      const part = pieces[letters];
      const kind = letters[0] === 'h' ? 'H' : letters[0]!;
      if (part === undefined || used.has(kind)) return undefined;
      used.add(kind);
      pattern += part;
    } else if (quoted !== undefined) pattern += escape(quoted);
    else if (space !== undefined) pattern += '\\s+';
    else if (sign !== undefined) pattern += escape(sign);
    else pattern += '(?::(?<thousandths>\\d{3}))';
    plain = plain.slice(whole.length);
  }
  const hasDate = used.has('y') && used.has('M') && used.has('d');
  const isClock = used.has('m') && (used.has('H') || used.has('s'));
  if (!isClock || (!hasDate && (used.has('y') || used.has('M') || used.has('d')))) return undefined;
  if (/h/u.test(format) !== used.has('a')) return undefined;
  const whole = new RegExp(`^${pattern}$`, 'iu');
  return {
    format,
    hasDate,
    read: (text) => {
      const groups = text.length <= 80 ? whole.exec(text.trim())?.groups : undefined;
      return groups ? secondsOf(groups, hasDate, used.has('H')) : Number.NaN;
    },
  };
}

const escape = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\/]/gu, '\\$&');

function secondsOf(groups: Record<string, string | undefined>, hasDate: boolean, hasHour: boolean): number {
  const number = (name: string) => Number(groups[name] ?? 0);
  let hour = number('hour');
  if (groups.half !== undefined) {
    if (hour < 1 || hour > 12) return Number.NaN;
    hour = (hour % 12) + (groups.half.toLowerCase() === 'p' ? 12 : 0);
  }
  const [minute, second] = [number('minute'), number('second')];
  if (hour > 23 || (hasHour && minute > 59) || second > 59) return Number.NaN;
  const fraction = Number(`0.${groups.part ?? groups.thousandths ?? '0'}`);
  const ofDay = hour * 3600 + minute * 60 + second + fraction;
  if (!hasDate) return ofDay;
  const year = groups.year!.length === 2 ? 2000 + number('year') : number('year');
  const [month, day] = [number('month'), number('day')];
  const date = new Date(Date.UTC(year, month - 1, day));
  // A day that its month does not have runs over into the next.
  if (year < 1900 || date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) return Number.NaN;
  return date.getTime() / 1000 + ofDay - zoneSeconds(groups.zone);
}

function zoneSeconds(zone: string | undefined): number {
  const parts = /^([+-])(\d{2}):?(\d{2})$/u.exec(zone ?? '');
  return parts ? (parts[1] === '-' ? -1 : 1) * (Number(parts[2]) * 3600 + Number(parts[3]) * 60) : 0;
}

const dates = ['-', '/', '.'].flatMap((sign) =>
  ['yyyy-MM-dd', 'dd-MM-yyyy', 'MM-dd-yyyy', 'dd-MM-yy', 'MM-dd-yy', 'yy-MM-dd'].map((date) =>
    date.replaceAll('-', sign),
  ),
);
const clocks = ['HH:mm:ss', 'HH:mm', 'hh:mm:ss a', 'hh:mm a', 'HH:mm:ssXXX', 'HH:mm:ss:SSS', 'HH.mm.ss'];

/** The formats that are tried where none is given. */
export const usualFormats: readonly TimeFormat[] = [
  ...clocks.filter((clock) => !clock.includes('X')),
  'mm:ss',
  ...dates.flatMap((date) => [' ', 'T'].flatMap((gap) => clocks.map((clock) => date + gap + clock))),
].map((format) => timeFormat(format)!);
