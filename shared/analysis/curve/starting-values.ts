import { log } from '../../numerics/elementary.ts';
import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import { lastTime } from '../sweep/series/pressure-grid.ts';
import type { FitData } from './fit-data.ts';
import { usualSoftness } from './priors.ts';
import type { Layout } from './model/shape.ts';

/**
 * Several parameter vectors to start the search from: the lag as first estimated and 1 s, narrow and wide shoulders, each
 * where the signal passes half way down or just beyond the tested pressures.
 *
 * @param losses  the flame losses of the shape, as many as it has
 */
export function startingValues({ input, initial }: FitData, layout: Layout, losses: DarkStretch[]): Float64Array[] {
  const { middle, half } = input.scale;
  const last = lastTime(input.grid);
  const starts: Float64Array[] = [];
  const widths = layout.low < 0 && layout.high < 0 ? [0.04] : [0.04, 0.12];
  for (const lag of new Set([Math.min(Math.max(initial.lagS, 0.3), 4), Math.min(1, initial.lagLimits.longestS)]))
    for (const width of widths) {
      const x = new Float64Array(layout.size);
      const put = (at: number, value: number) => {
        if (at >= 0) x[at] = value;
      };
      put(layout.amplitude, initial.plateau - (layout.dark >= 0 ? initial.dark : 0));
      put(layout.dark, initial.dark);
      put(layout.lag, lag);
      put(layout.lagRoot, Math.sqrt(0.6 * lag));
      put(layout.low, initial.halfLow ?? middle - 1.05 * half);
      put(layout.high, initial.halfHigh ?? middle + 1.05 * half);
      put(layout.lowWidth, log(width * half));
      put(layout.highWidth, log(width * half));
      losses.forEach((loss, k) => {
        if (layout.flameLoss < 0) return;
        x[layout.flameLoss + 2 * k] = loss.lostS;
        x[layout.flameLoss + 2 * k + 1] = Math.min(loss.relitS, last + 10);
      });
      starts.push(x);
    }
  return starts;
}

/** The parameters of an earlier fit in another layout; parameters that are new there start without effect. */
export function startFromFit(earlier: { layout: Layout; parameters: Float64Array }, layout: Layout): Float64Array {
  const x = new Float64Array(layout.size);
  const names = [
    'amplitude',
    'dark',
    'low',
    'lowWidth',
    'high',
    'highWidth',
    'lowSkew',
    'highSkew',
    'tilt',
    'bow',
    'sag',
    'knee',
    'clip',
    'softness',
    'lag',
    'lagRoot',
  ] as const;
  for (const name of names)
    if (layout[name] >= 0 && earlier.layout[name] >= 0) x[layout[name]] = earlier.parameters[earlier.layout[name]]!;
  // At a sag of zero the knee would have no influence.
  if (layout.sag >= 0 && earlier.layout.sag < 0) x[layout.sag] = 0.1;
  if (layout.clip >= 0 && earlier.layout.clip < 0) {
    const level = earlier.parameters[earlier.layout.amplitude]!;
    // Where it clips behind the lag only a flame well above the clip makes a difference.
    x[layout.amplitude] = (layout.clipsBehindLag ? 1.6 : 1.1) * level;
    x[layout.clip] = level + (layout.dark >= 0 ? x[layout.dark]! : 0);
    x[layout.softness] = usualSoftness(Math.abs(level));
  }
  if (layout.flameLoss >= 0) x.set(earlier.parameters.subarray(earlier.layout.flameLoss), layout.flameLoss);
  return x;
}
