import { convertPressure } from '../model/units.ts';
import { median } from '../numerics/descriptive.ts';
import { hasNoFlameResponse, isFlameUnseen } from './provisional.ts';
import type { Study } from './study.ts';
import { longestGap, runsWhere } from './sweep/series/series.ts';

/** The manometer shows no gas for at least so long, seconds. */
const leastS = 5;
/** Shut gas stands no higher than this above the fan-only pressure, inH2O. */
const shutBelowInH2O = 0.06;
/** The signal of a flame is gone by then, seconds. */
const fallsWithinS = 3;
/** So near to its usual level a signal stands as it always does. */
const sameShare = 0.2;

/**
 * The level at which the signal stood while the manometer showed no gas, where it shows no flame: it stands there all the time, or it is as
 * good there as is required. In the signal's unit. Undefined where the signal answers to gas, or no gas was ever shut.
 */
export function signalWithoutGas(
  study: Pick<Study, 'sweep' | 'settings' | 'interval' | 'tracked' | 'initial'>,
): number | undefined {
  const { sweep, settings, tracked, interval } = study;
  const answers = !hasNoFlameResponse(study) && !isFlameUnseen(study);
  const { wholePressure, wholeSignal } = sweep;
  const { time, value } = wholePressure;
  const fanOnly = Math.max(0, settings.fanOnlyKnown ? settings.fanOnly : 0);
  const near = convertPressure(shutBelowInH2O, 'inH2O', sweep.pressureUnit);
  const gapS = longestGap(wholePressure);
  const shut = runsWhere(
    value.length,
    (i) => value[i]! <= fanOnly + near && (i === 0 || time[i]! - time[i - 1]! <= gapS),
  );
  const usual = median(wholeSignal.value);
  for (const [from, to] of shut) {
    const [fromS, toS] = [time[from]!, time[to - 1]!];
    if (toS - fromS < leastS + fallsWithinS) continue;
    // What is dark while gas is shut is no signal.
    const isDark = tracked.spans.some(
      ({ flame, from_s, to_s }) => (flame === 'dark' || flame === 'out') && from_s < toS && to_s > fromS + fallsWithinS,
    );
    if (isDark) continue;
    const level = median(wholeSignal.value.filter((_, i) => within(wholeSignal.time[i]!, fromS + fallsWithinS, toS)));
    const isSame = !answers && Math.abs(level - usual) < sameShare * Math.abs(usual);
    // A fan-only pressure that was entered too high, or a hose on the wrong port, makes lower pressures seem to be without gas.
    const isAtFanOnly = value[from + ((to - from) >> 1)]! >= fanOnly - near;
    if (isSame || (isAtFanOnly && level >= interval.required.value)) return level;
  }
  return undefined;
}

const within = (t: number, fromS: number, toS: number): boolean => t >= fromS && t <= toS;
