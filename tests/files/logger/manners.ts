/** A reading row of the plain table: seconds, pilot pressure in mbar, flame signal in V; a missing one is a blank cell. */
export interface PlainRow {
  t: number;
  p?: number;
  s?: number;
}

/** The zero of the times that have a date: two minutes before midnight of a day above 12. */
export const start = Date.UTC(2026, 10, 27, 23, 58, 0);

/** A way to write the table, as loggers of some country do. */
export interface Manner {
  title: string;
  bytes: (rows: PlainRow[]) => Uint8Array;
}

interface Style {
  separator?: string;
  decimal?: ',' | '.';
  before?: string[];
  heading: string[];
  time: (t: number) => string[];
  unitRow?: string[];
  end?: string;
  cell?: (value: number, which: 'p' | 's') => string;
  encode?: (text: string) => Uint8Array;
}

const two = (n: number): string => String(n).padStart(2, '0');
/** The parts of the moment `t` seconds after `start`. */
export function at(t: number) {
  const date = new Date(start + Math.round(t * 1000));
  const hour = date.getUTCHours();
  return {
    y: String(date.getUTCFullYear()),
    M: two(date.getUTCMonth() + 1),
    d: two(date.getUTCDate()),
    H: two(hour),
    h: String(hour % 12 === 0 ? 12 : hour % 12),
    half: hour < 12 ? 'AM' : 'PM',
    m: two(date.getUTCMinutes()),
    s: two(date.getUTCSeconds()),
    ms: String(date.getUTCMilliseconds()).padStart(3, '0'),
  };
}

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
export const utf16 = (text: string, bigEndian: boolean, mark: boolean): Uint8Array => {
  const units = Array.from({ length: text.length }, (_, i) => text.charCodeAt(i));
  if (mark) units.unshift(0xfeff);
  return Uint8Array.from(units.flatMap((u) => (bigEndian ? [u >> 8, u & 255] : [u & 255, u >> 8])));
};
/** Only for characters below 256. */
export const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

const write = (style: Style, rows: PlainRow[]): Uint8Array => {
  const { separator = ';', decimal = ',', before = [], end = '\n', encode = utf8 } = style;
  const comma = (text: string) => (decimal === ',' ? text.replace('.', ',') : text);
  const cell = style.cell ?? ((value) => String(value));
  const value = (v: number | undefined, which: 'p' | 's') => (v === undefined ? '' : comma(cell(v, which)));
  const table = [style.heading, ...(style.unitRow ? [style.unitRow] : [])].map((line) => line.join(separator));
  const body = rows.map(({ t, p, s }) => [...style.time(t), value(p, 'p'), value(s, 's')].join(separator));
  return encode([...before, ...table, ...body, ''].join(end));
};

const clock = (t: number, sign = '.') => `${at(t).H}:${at(t).m}:${at(t).s}${sign}${at(t).ms}`;
const european = (t: number, sign = '.') => [at(t).d, at(t).M, at(t).y].join(sign);
const american = (t: number) => [at(t).M, at(t).d, at(t).y].join('/');
const iso = (t: number) => [at(t).y, at(t).M, at(t).d].join('-');
const seconds = (t: number) => [String(t).replace('.', ',')];

const styles: Record<string, Style> = {
  'German, seconds': { heading: ['Zeit [s]', 'Druck [mbar]', 'Flammensignal [V]'], time: seconds },
  'German, with a byte order mark': {
    heading: ['Zeit [s]', 'Druck [mbar]', 'Flamme [V]'],
    time: seconds,
    encode: (t) => utf8(`\uFEFF${t}`),
  },
  'German, Latin-1, lines before the heading': {
    before: ['Messprotokoll', 'Gerät: Prüfstand', '', 'Ort: Kesselhaus'],
    heading: ['Uhrzeit', 'Zünddruck [mbar]', 'Flammenstärke [V]'],
    time: (t) => [clock(t, ',')],
    encode: latin1,
    end: '\r\n',
  },
  'Austrian, date and time in two columns, line of units': {
    heading: ['Datum', 'Uhrzeit', 'Druck', 'Flamme'],
    unitRow: ['', 'hh:mm:ss', 'mbar', 'V'],
    time: (t) => [european(t), clock(t, ',')],
  },
  'Swiss, decimal point and semicolon': {
    decimal: '.',
    heading: ['Zeit', 'Druck (mbar)', 'Signal (V)'],
    time: (t) => [`${european(t)} ${clock(t)}`],
  },
  'French, UTF-16 with a mark': {
    separator: '\t',
    heading: ['Heure', 'Pression (mbar)', 'Flamme (V)'],
    time: (t) => [`${european(t, '/')} ${clock(t, ',')}`],
    encode: (t) => utf16(t, false, true),
  },
  'Italian, UTF-16 big-endian': {
    separator: '\t',
    heading: ['Tempo (s)', 'Pressione (mbar)', 'Fiamma (V)'],
    time: seconds,
    encode: (t) => utf16(t, true, true),
  },
  'Spanish, UTF-16 without a mark': {
    heading: ['Hora', 'Presión (mbar)', 'Llama (V)'],
    time: (t) => [clock(t, ',')],
    encode: (t) => utf16(t, false, false),
  },
  'Polish, UTF-16 big-endian without a mark': {
    heading: ['Czas [s]', 'Ciśnienie [mbar]', 'Płomień [V]'],
    time: seconds,
    encode: (t) => utf16(t, true, false),
  },
  'Danish, clock': { heading: ['Tid', 'Tryk [mbar]', 'Flamme [V]'], time: (t) => [clock(t, ',')] },
  'American, AM and PM': {
    separator: ',',
    decimal: '.',
    heading: ['Time', 'Pressure (mbar)', 'Flame Signal (V)'],
    time: (t) => [`${american(t)} ${at(t).h}:${at(t).m}:${at(t).s}.${at(t).ms} ${at(t).half}`],
  },
  'American, AM and PM without a date': {
    separator: ',',
    decimal: '.',
    heading: ['Time', 'Pressure (mbar)', 'Flame (V)'],
    time: (t) => [`${at(t).h}:${at(t).m}:${at(t).s}.${at(t).ms} ${at(t).half}`],
  },
  'American, two columns': {
    separator: ',',
    decimal: '.',
    heading: ['Date', 'Time', 'Pressure, mbar', 'Flame, V'].map((h) => `"${h}"`),
    time: (t) => [american(t), clock(t)],
  },
  'British, day first': {
    separator: ',',
    decimal: '.',
    heading: ['Time', 'Gas pressure mbar', 'Flame V'],
    time: (t) => [`${european(t, '/')} ${clock(t)}`],
  },
  'Swedish, ISO date with a blank': {
    heading: ['Tid', 'Tryck [mbar]', 'Flamma [V]'],
    time: (t) => [`${iso(t)} ${clock(t, ',')}`],
  },
  'ISO 8601 with a zone': {
    separator: ',',
    decimal: '.',
    heading: ['Timestamp', 'Pressure [mbar]', 'Flame [V]'],
    time: (t) => [`${iso(t)}T${clock(t)}+01:00`],
  },
  'ISO 8601 in UTC': {
    separator: '\t',
    decimal: '.',
    heading: ['Timestamp', 'Pressure [mbar]', 'Flame [V]'],
    time: (t) => [`${iso(t)}T${clock(t)}Z`],
  },
  milliseconds: {
    separator: ',',
    decimal: '.',
    heading: ['time (ms)', 'pressure (mbar)', 'flame (V)'],
    time: (t) => [String(Math.round(t * 1000))],
  },
  'quoted decimal commas': {
    separator: ',',
    heading: ['Zeit [s]', 'Druck [mbar]', 'Flamme [V]'],
    time: (t) => [`"${String(t).replace('.', ',')}"`],
    cell: (v) => `"${v}"`,
  },
  'channels with units behind the numbers': {
    decimal: '.',
    heading: ['Time', 'Pressure', 'Flame'],
    time: (t) => [clock(t)],
    cell: (v, which) => `${v} ${which === 'p' ? 'mbar' : 'V'}`,
  },
  'numbered channels and a unit after a slash': {
    separator: '\t',
    heading: ['t/s', 'CH1/mbar', 'CH2/V'],
    time: seconds,
  },
  'CR only': { heading: ['Zeit [s]', 'Druck [mbar]', 'Flamme [V]'], time: seconds, end: '\r' },
  'millivolts and hectopascals': {
    heading: ['Zeit [s]', 'Druck [hPa]', 'Flamme [mV]'],
    time: seconds,
    cell: (v, which) => String(which === 'p' ? v : Math.round(v * 1000)),
  },
};

/** Over twenty ways to write one table. */
export const manners: Manner[] = Object.entries(styles).map(([title, style]) => ({
  title,
  bytes: (rows) => write(style, rows),
}));
