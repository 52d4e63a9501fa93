import type { PreviewCurve } from '../../../model/logger/preview.ts';
import type { Reading } from '../../../model/reading.ts';
import { thinLine } from '../../../model/thin-line.ts';

/** Most points of a curve; the plot is some 400 pixels wide. */
const mostPoints = 300;
/** A pause at least this long breaks the line, seconds; and this many times the usual step, as some loggers store once a minute. */
const pause = { seconds: 5, steps: 5 };

/** The readings of each role as a small curve. */
export function curvesOf(readings: Reading[]): PreviewCurve[] {
  return [...Map.groupBy(readings, ({ role }) => role)].map(([role, own]) => {
    const longest = Math.max(pause.seconds, pause.steps * usualStep(own));
    const elapsedS: number[] = [];
    const value: number[] = [];
    for (const [i, reading] of own.entries()) {
      const before = own[i - 1];
      if (before && reading.elapsedS - before.elapsedS > longest) {
        elapsedS.push(before.elapsedS);
        value.push(Number.NaN);
      }
      elapsedS.push(reading.elapsedS);
      value.push(reading.value);
    }
    const points = thinLine(elapsedS, value, 0, value.length, mostPoints);
    return {
      role,
      unit: own[0]!.unit,
      elapsedS: points.map((i) => elapsedS[i]!),
      value: points.map((i) => (Number.isNaN(value[i]) ? null : value[i]!)),
      readings: own.length,
      flagged: own.filter(({ flag }) => flag !== undefined).length,
    };
  });
}

/** The median of the steps between readings, seconds. */
function usualStep(readings: Reading[]): number {
  const steps = readings.slice(1).map(({ elapsedS }, i) => elapsedS - readings[i]!.elapsedS);
  return steps.sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
}
