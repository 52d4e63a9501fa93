import type { Random } from '../../../shared/numerics/random.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import type { MeterRole } from './simulate.ts';

/** A gap in the readings of a meter: from a share of the sweep on, for some seconds. */
export interface Gap {
  role: MeterRole;
  fromShare: number;
  seconds: number;
}

/** The readings without those that fall into a gap. */
export const withGaps = (readings: Reading[], gaps: Gap[], durationS: number): Reading[] =>
  readings.filter(
    ({ role, elapsedS }) =>
      !gaps.some((gap) => {
        const from = gap.fromShare * durationS;
        return gap.role === role && elapsedS >= from && elapsedS < from + gap.seconds;
      }),
  );

/**
 * Corrupts one reading in `every` as a bad lead, a loose plug or a logger does: it jumps away (alone or with its
 * successor), reads zero, reports overload, is unreadable, comes twice, or arrives before its predecessor.
 */
export function corruptReadings(readings: Reading[], every: number, random: Random): Reading[] {
  if (every === Infinity) return readings;
  const result: Reading[] = [];
  const jump = (reading: Reading, size: number): Reading => {
    const value = reading.value + size;
    return { ...reading, value, raw: String(value) };
  };
  const flagged = (reading: Reading, flag: Reading['flag'], raw: string): Reading => ({
    ...reading,
    value: Number.NaN,
    flag,
    raw,
  });
  let repeatedJump = 0;
  for (const reading of readings) {
    if (repeatedJump !== 0 && reading.role === 'flame_signal') {
      result.push(jump(reading, repeatedJump));
      repeatedJump = 0;
      continue;
    }
    if (random.uniform() * every >= 1) {
      result.push(reading);
      continue;
    }
    // Several times the noise, up to the full range of either meter, upward or downward.
    const size = (random.uniform() < 0.5 ? -1 : 1) * (0.5 + 3 * random.uniform());
    const corruptions = [
      () => result.push(jump(reading, size)),
      () => {
        result.push(jump(reading, size));
        if (reading.role === 'flame_signal') repeatedJump = size;
      },
      () => result.push({ ...reading, value: 0, raw: '0' }),
      () => result.push(flagged(reading, 'overload', 'OL')),
      () => result.push(flagged(reading, 'unreadable', '?#')),
      () => result.push(reading, reading),
      () => result.splice(Math.max(0, result.length - 1), 0, reading),
    ];
    corruptions[Math.floor(corruptions.length * random.uniform())]!();
  }
  return result;
}
