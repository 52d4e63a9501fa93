import { median } from '../../numerics/descriptive.ts';
import { madFactor, robustDeviation } from '../../numerics/robust.ts';
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
 * same quarter of a minute, so that a drift is no scatter. The meter's last digit leaves half a step of a median of deviations
 * (a rectangle, JCGM 100:2008 F.2.2.1). In the signal's unit.
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
  return {
    // Where the plateau was passed too quickly for that, all of it is one block.
    sd: deviations.length > 0 ? robustDeviation(Float64Array.from(deviations), 0) : steadiness.plateauSd,
    degrees: noiseDegrees,
    otherU: (madFactor * resolutionOf(sweep.signal.value)) / Math.sqrt(12),
  };
}
