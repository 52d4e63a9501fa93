import { createLineDecoder } from '../../../../shared/instruments/decode.ts';
import { findUnit } from '../../../../shared/instruments/unit-token.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Serial } from './serial-framing.ts';
import { frameName } from './serial-framing.ts';

export interface ProfileMatch {
  profile: Profile;
  /** Whether the profile is built in or kept; else it was made for the speed that was heard. */
  kept: boolean;
}

// A number inside a word (H2O, CH1) is none.
const numbers = /(?<![A-Za-z\d.])[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/gu;
// NR3 of IEEE 488.2: a mantissa with its point and an exponent, both usually signed (from memory).
const nr3 = /^[+-]?\d+\.\d*E[+-]?\d+$/u;
const separators = new Map([
  [',', 'commas'],
  [';', 'semicolons'],
  ['\t', 'tabs'],
]);

/**
 * The whole lines in what was heard, without blanks around them and without empty ones.
 * @param beginsWhole  false: the first was cut by opening in its middle, and is left out
 */
export function wholeLines(text: string, beginsWhole: boolean): string[] {
  return text
    .split(/[\r\n]+/u)
    .slice(beginsWhole ? 0 : 1, -1)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/** What a line looks like, for people. */
export function shapeOf(line: string): string {
  const found = [...line.matchAll(numbers)];
  const [first] = found;
  if (!first) return 'text without numbers';
  if (found.length === 1) {
    if (nr3.test(line)) return 'one number a line, as SCPI meters write it';
    return findUnit(line.slice(first.index + first[0].length))
      ? 'one number a line with its unit'
      : 'one number a line';
  }
  const between = [...separators.keys()].filter((one) => line.split(one).length === found.length);
  const apart = between.length === 1 ? separators.get(between[0] ?? '') : undefined;
  return `${found.length === 2 ? 'two' : found.length} numbers a line${apart ? `, set apart by ${apart}` : ''}`;
}

// A line that was garbled on the way is no reason against a profile.
const readShare = 0.9;

/**
 * The profiles that read these lines best, the best first: those that read nearly every line in full, take the most numbers from it,
 * and have the very unit that is printed. Meters that must be asked are left out, as what was heard talks by itself. More than one is
 * given when the lines do not tell them apart, such as a bare number.
 *
 * @param serial  how the port speaks; a profile for another speed is given as a new one for this speed. Undefined over a network.
 */
export function matchingProfiles(
  lines: readonly string[],
  profiles: readonly Profile[],
  serial: Serial | undefined,
): ProfileMatch[] {
  const able = profiles
    .filter(({ mode }) => mode === 'stream')
    .map((profile) => ({ profile, ...worth(lines, profile) }))
    .filter(({ taken }) => taken > 0);
  const most = Math.max(0, ...able.map(({ taken }) => taken));
  const unit = Math.max(-1, ...able.filter(({ taken }) => taken === most).map(({ unit }) => unit));
  const fits = new Map<string, ProfileMatch>();
  for (const one of able) {
    if (one.taken !== most || one.unit !== unit) continue;
    const fit = atSpeed(one.profile, profiles, serial);
    if (!fits.has(fit.profile.name)) fits.set(fit.profile.name, fit);
  }
  return [...fits.values()].sort((a, b) => Number(b.kept) - Number(a.kept));
}

/** Numbers taken from each line (0: the profile does not read them), and how well its unit agrees: 1 printed so, 0 not printed, -1 converted. */
function worth(lines: readonly string[], profile: Profile): { taken: number; unit: number } {
  const decode = createLineDecoder(profile);
  let read = 0;
  let taken = 0;
  let withNumber = 0;
  for (const line of lines) {
    const readings = decode(line);
    const good = readings.filter(({ flag }) => flag === undefined);
    if (readings.every(({ flag }) => flag === undefined || flag === 'overload')) read += 1;
    if (good.length > 0) withNumber += 1;
    taken = Math.max(taken, good.length);
  }
  if (withNumber === 0 || read < readShare * lines.length) return { taken: 0, unit: 0 };
  return { taken, unit: unitRank(lines, profile) };
}

function unitRank(lines: readonly string[], { channels }: Profile): number {
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

/** The profile for the speed that was heard: itself, one that is there under the name it would get, or a new one. */
function atSpeed(profile: Profile, profiles: readonly Profile[], serial: Serial | undefined): ProfileMatch {
  if (!serial || sameSerial(profile.serial, serial)) return { profile, kept: true };
  const base = profile.name.replace(/, \d+ baud \d[NEO]\d$/u, '');
  const suffix = `, ${serial.baudRate} baud ${frameName(serial)}`;
  const name = `${base.slice(0, 80 - suffix.length)}${suffix}`;
  const there = [base, name]
    .map((wanted) => profiles.find((one) => one.name === wanted))
    .find((one) => one && sameSerial(one.serial, serial));
  return there ? { profile: there, kept: true } : { profile: { ...profile, name, serial }, kept: false };
}
