import type { Random } from '../../../shared/numerics/random.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import type { MeterRole } from './simulate.ts';

/** Silences of a meter: each from a share of the sweep on, for some seconds. */
export interface Gap {
  role: MeterRole;
  fromShare: number;
  seconds: number;
}

/** The readings without those that fell into a silence. */
export const withGaps = (readings: Reading[], gaps: Gap[], durationS: number): Reading[] =>
  readings.filter(
    ({ role, elapsedS }) =>
      !gaps.some((gap) => {
        const from = gap.fromShare * durationS;
        return gap.role === role && elapsedS >= from && elapsedS < from + gap.seconds;
      }),
  );

/**
 * What a bad lead, a loose plug and a logger do: one reading in `every` is spoilt. It jumps away (alone or with its
 * successor), reads zero, says overload, prints rubbish, comes twice, or arrives before the one ahead of it.
 */
export function withJunk(readings: Reading[], every: number, random: Random): Reading[] {
  if (every === Infinity) return readings;
  const spoilt: Reading[] = [];
  const jump = (reading: Reading, size: number): Reading => {
    const value = reading.value + size;
    return { ...reading, value, raw: String(value) };
  };
  const silent = (reading: Reading, flag: Reading['flag'], raw: string): Reading => ({
    ...reading,
    value: Number.NaN,
    flag,
    raw,
  });
  let again = 0;
  for (const reading of readings) {
    if (again !== 0 && reading.role === 'flame_signal') {
      spoilt.push(jump(reading, again));
      again = 0;
      continue;
    }
    if (random.uniform() * every >= 1) {
      spoilt.push(reading);
      continue;
    }
    // Several times the noise, up to the full range of either meter, upwards or downwards.
    const size = (random.uniform() < 0.5 ? -1 : 1) * (0.5 + 3 * random.uniform());
    const spoil = [
      () => spoilt.push(jump(reading, size)),
      () => {
        spoilt.push(jump(reading, size));
        if (reading.role === 'flame_signal') again = size;
      },
      () => spoilt.push({ ...reading, value: 0, raw: '0' }),
      () => spoilt.push(silent(reading, 'overload', 'OL')),
      () => spoilt.push(silent(reading, 'unreadable', '?#')),
      () => spoilt.push(reading, reading),
      () => spoilt.splice(Math.max(0, spoilt.length - 1), 0, reading),
    ];
    spoil[Math.floor(spoil.length * random.uniform())]!();
  }
  return spoilt;
}
