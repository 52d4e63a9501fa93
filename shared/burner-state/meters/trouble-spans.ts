import type { Reading } from '../../model/reading.ts';
import type { TimeSpan } from '../../model/sweeps.ts';
import { binOf } from '../chain/bins.ts';
import { createMeterWatch, type MeterTrouble } from './meter-trouble.ts';
import { stepS } from '../chain/states.ts';

/** The trouble of each meter in one step; undefined where it is sound. */
export interface Troubles {
  pressure: MeterTrouble | undefined;
  signal: MeterTrouble | undefined;
}

/** The troubles of both meters, step by step, with hindsight: a meter is frozen from the moment on at which its value last moved. */
export function troublesOf(readings: readonly Reading[], first: number, count: number): Troubles[] {
  const found = Array.from({ length: count }, (): Troubles => ({ pressure: undefined, signal: undefined }));
  for (const [role, name] of [
    ['pilot_pressure', 'pressure'],
    ['flame_signal', 'signal'],
  ] as const) {
    const own = readings.filter((reading) => reading.role === role && Number.isFinite(reading.elapsedS));
    // Mostly they are in order already, which is seen much faster than sorted.
    if (own.some(({ elapsedS }, i) => i > 0 && elapsedS < own[i - 1]!.elapsedS))
      own.sort((a, b) => a.elapsedS - b.elapsedS);
    const watch = createMeterWatch();
    let next = 0;
    for (let t = 0; t < count; t += 1) {
      const end = (first + t + 1) * stepS;
      for (; next < own.length && own[next]!.elapsedS < end; next += 1)
        watch.reading(own[next]!.elapsedS, own[next]!.value);
      const trouble = watch.trouble(end);
      if (!trouble) continue;
      const from = Math.max(0, binOf(trouble.sinceS) + 1 - first);
      for (let k = t; k >= from && found[k]![name] !== trouble.kind; k -= 1) found[k]![name] = trouble.kind;
    }
  }
  return found;
}

/** Stretches in which each meter repeated one value, seconds of the capture. */
export interface FrozenSpans {
  pressure: TimeSpan[];
  signal: TimeSpan[];
}

/** The frozen ones of the troubles, step by step from the step `first` on, as stretches. */
export function frozenSpans(troubles: readonly Troubles[], first: number): FrozenSpans {
  const found: FrozenSpans = { pressure: [], signal: [] };
  for (const meter of ['pressure', 'signal'] as const)
    troubles.forEach((trouble, t) => {
      if (trouble[meter] !== 'frozen') return;
      const [fromS, toS] = [(first + t) * stepS, (first + t + 1) * stepS];
      const goesOn = t > 0 && troubles[t - 1]![meter] === 'frozen';
      if (goesOn) found[meter].at(-1)!.toS = toS;
      else found[meter].push({ fromS, toS });
    });
  return found;
}
