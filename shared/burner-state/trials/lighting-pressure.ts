import { median } from '../../numerics/descriptive.ts';

/** A reading of the manometer, seconds and any unit of pressure. */
interface PressureReading {
  elapsedS: number;
  value: number;
}

/** The last readings, which tell whether the regulator is being turned, seconds; by how much it moves then, as a share of the rise. */
const lastSeconds = 2;
const turnedShare = 0.02;
/** Where it is, the pressure counts for so long after the flame was proved, seconds. */
const afterProofS = 1;

/**
 * The pressure at which a trial lit: the median while gas flowed. Where the regulator was being turned on as the trial ended, only what came
 * until the flame was proved counts, since what it was turned to did not light. A damped manometer has come to rest by then.
 *
 * @param flowing  readings since the pressure had settled, in the order of their times, at least one
 * @param rise     of the pressure from before the gas, in the unit of the readings
 * @param provedS  when the flame was proved; undefined where it never was
 */
export function lightingPressure(
  flowing: readonly PressureReading[],
  rise: number,
  provedS: number | undefined,
): number {
  const endS = flowing.at(-1)!.elapsedS;
  const within = (fromS: number, toS: number) =>
    Float64Array.from(
      flowing.filter(({ elapsedS }) => elapsedS > fromS && elapsedS <= toS),
      ({ value }) => value,
    );
  const [earlier, later] = [within(endS - lastSeconds, endS - lastSeconds / 2), within(endS - lastSeconds / 2, endS)];
  const isTurned =
    earlier.length > 0 && later.length > 0 && Math.abs(median(later) - median(earlier)) > turnedShare * rise;
  const untilS = provedS === undefined || !isTurned ? Infinity : Math.max(provedS, flowing[0]!.elapsedS) + afterProofS;
  return median(within(-Infinity, untilS));
}
