import { createLineDecoder } from '../../../../shared/instruments/decode.ts';
import { findUnit } from '../../../../shared/instruments/unit-token.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Serial } from './serial-framing.ts';
import { frameName } from './serial-framing.ts';

export interface ProfileMatch {
  profile: Profile;
  /** Whether the profile is built in or saved; else it was derived for the detected speed. */
  kept: boolean;
}

// A number inside a word (H2O, CH1) is none.
const numbers = /(?<![A-Za-z\d.])[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/gu;
// NR3 of IEEE 488.2: a mantissa with its point and an exponent, both usually signed (from memory).
const nr3 = /^[+-]?\d+\.\d*E[+-]?\d+$/u;
const separatorNames = new Map([
  [',', 'commas'],
  [';', 'semicolons'],
  ['\t', 'tabs'],
]);

/**
 * The complete lines of a received text, without blanks around them and without empty ones.
 * @param startsOnNewLine  false: the first was cut by opening in its middle, and is left out
 */
export function completeLines(text: string, startsOnNewLine: boolean): string[] {
  return text
    .split(/[\r\n]+/u)
    .slice(startsOnNewLine ? 0 : 1, -1)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/** What a line holds, in words for people: "two numbers a line, separated by commas". */
export function describeLine(line: string): string {
  const found = [...line.matchAll(numbers)];
  const [first] = found;
  if (!first) return 'text without numbers';
  if (found.length === 1) {
    if (nr3.test(line)) return 'one number a line, in the format of SCPI meters';
    return findUnit(line.slice(first.index + first[0].length))
      ? 'one number a line with its unit'
      : 'one number a line';
  }
  const possible = [...separatorNames.keys()].filter((separator) => line.split(separator).length === found.length);
  const separator = possible.length === 1 ? separatorNames.get(possible[0] ?? '') : undefined;
  return `${found.length === 2 ? 'two' : found.length} numbers a line${separator ? `, separated by ${separator}` : ''}`;
}

// A line that was garbled on the way does not speak against a profile.
const minReadShare = 0.9;

/**
 * The profiles that read these lines best, best first: those that read nearly every line in full, read the most numbers from it,
 * and have the unit that is printed. Meters that must be polled are left out, as this one sends by itself. More than one is
 * given when the lines do not distinguish them, such as a bare number.
 *
 * @param serial  speed and frame of the port; a profile for another speed is given as a new one for this speed. Undefined over a network.
 */
export function matchingProfiles(
  lines: readonly string[],
  profiles: readonly Profile[],
  serial: Serial | undefined,
): ProfileMatch[] {
  const candidates = profiles
    .filter(({ mode }) => mode === 'stream')
    .map((profile) => ({ profile, ...matchQuality(lines, profile) }))
    .filter(({ numbersRead }) => numbersRead > 0);
  const mostNumbers = Math.max(0, ...candidates.map(({ numbersRead }) => numbersRead));
  const bestUnit = Math.max(
    -1,
    ...candidates.filter(({ numbersRead }) => numbersRead === mostNumbers).map(({ unitRank }) => unitRank),
  );
  const matches = new Map<string, ProfileMatch>();
  for (const { profile, numbersRead, unitRank } of candidates) {
    if (numbersRead !== mostNumbers || unitRank !== bestUnit) continue;
    const match = atSpeed(profile, profiles, serial);
    if (!matches.has(match.profile.name)) matches.set(match.profile.name, match);
  }
  return [...matches.values()].sort((a, b) => Number(b.kept) - Number(a.kept));
}

/** Numbers read from each line (0: the profile does not read them), and how well its unit agrees: see `unitRankOf`. */
function matchQuality(lines: readonly string[], profile: Profile): { numbersRead: number; unitRank: number } {
  const decode = createLineDecoder(profile);
  let linesRead = 0;
  let numbersRead = 0;
  for (const line of lines) {
    const readings = decode(line);
    if (readings.every(({ flag }) => flag === undefined || flag === 'overload')) linesRead += 1;
    numbersRead = Math.max(numbersRead, readings.filter(({ flag }) => flag === undefined).length);
  }
  if (linesRead < minReadShare * lines.length) return { numbersRead: 0, unitRank: 0 };
  return { numbersRead, unitRank: unitRankOf(lines, profile) };
}

/** 1: the lines print the unit of a channel, 0: they print none, -1: they print another one, which is converted. */
function unitRankOf(lines: readonly string[], { channels }: Profile): number {
  const units = channels.map((channel) => channel.unit);
  for (const line of lines) {
    const found = [...line.matchAll(numbers)];
    const [first] = found;
    const printed = found.length === 1 && first && findUnit(line.slice(first.index + first[0].length));
    if (printed) return units.some((unit) => unit === printed.unit && printed.factor === 1) ? 1 : -1;
  }
  return 0;
}

const sameSerial = (a: Serial, b: Serial): boolean => a.baudRate === b.baudRate && frameName(a) === frameName(b);

/** The profile for the detected speed: itself, one that exists under the name it would get, or a new one. */
function atSpeed(profile: Profile, profiles: readonly Profile[], serial: Serial | undefined): ProfileMatch {
  if (!serial || sameSerial(profile.serial, serial)) return { profile, kept: true };
  const base = profile.name.replace(/, \d+ baud \d[NEO]\d$/u, '');
  const suffix = `, ${serial.baudRate} baud ${frameName(serial)}`;
  const name = `${base.slice(0, 80 - suffix.length)}${suffix}`;
  const existing = [base, name]
    .map((wanted) => profiles.find((one) => one.name === wanted))
    .find((one) => one && sameSerial(one.serial, serial));
  return existing ? { profile: existing, kept: true } : { profile: { ...profile, name, serial }, kept: false };
}
