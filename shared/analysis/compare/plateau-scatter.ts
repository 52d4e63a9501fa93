import { median } from '../../numerics/descriptive.ts';
import { madFactor, trimmedDeviation } from '../../numerics/robust.ts';
import type { Study } from '../study.ts';
import { resolutionOf } from '../sweep/series/meter-noise.ts';
import { typicalStep } from '../sweep/series/series.ts';
import type { Scatter } from './scatter.ts';

/** Readings further apart in time than this, seconds, are not compared: a detector that warms up takes longer (common practice). */
const blockS = 15;
/** A block of fewer readings than this loses too much of its scatter to its own middle. */
const minReadings = 12;

/**
 * How much the signal scatters about the curve in the middle half of its good pressures, each reading compared with those of the
 * same quarter of a minute, so that a drift is no scatter. In the signal's unit.
 */
export function plateauScatter(study: Study): Scatter {
  const { pairs, residual, interval, tested, signal, noiseDegrees, steadiness, sweep } = study;
  const [low, high] = [interval.low?.value ?? tested[0], interval.high?.value ?? tested[1]];
  const quarter = (high - low) / 4;
  const longest = Math.max(blockS, minReadings * typicalStep(signal));
  const deviations: number[] = [];
  let block: number[] = [];
  let fromS = -Infinity;
  const close = () => {
    const middle = block.length > 0 ? median(Float64Array.from(block)) : 0;
    deviations.push(...(block.length >= minReadings ? block.map((value) => value - middle) : []));
    block = [];
  };
  pairs.elapsedS.forEach((t, i) => {
    const p = pairs.pressure[i]!;
    if (p < low + quarter || p > high - quarter) return;
    if (t - fromS > longest) {
      close();
      fromS = t;
    }
    block.push(residual[i]!);
  });
  close();
  // Where the plateau was passed too quickly for that, all of it is one block.
  const sd = deviations.length > 0 ? trimmedDeviation(Float64Array.from(deviations)) : steadiness.plateauSd;
  return { sd, degrees: noiseDegrees, otherU: roundingU(sd, resolutionOf(sweep.signal.value)) };
}

/**
 * Standard uncertainty of a scatter `sd` of readings whose last digit steps by `digit`. Rounding adds a twelfth of the digit's square to the
 * variance where the scatter is a digit or more; less is hidden in it, by up to half a step (a rectangle, JCGM 100:2008 F.2.2.1).
 * Source: Sheppard 1898, Proc. London Math. Soc. 29, 353.
 */
const roundingU = (sd: number, digit: number): number =>
  sd < digit ? (madFactor * digit) / Math.sqrt(12) : digit ** 2 / (24 * sd);
