import { formatPressure, formatSeconds, formatSpark } from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';
import { comparedDelay, type CountedTrial, trialsAt } from './at-setting.ts';

/**
 * Whether the pilot lights at any moment of the trial for ignition at a setting, in words, and never more than was tried there.
 *
 * @param trials        judged and valid, in the order in which they were made
 * @param trialSeconds  length of the trial for ignition
 */
export function anyMomentWords(
  trials: readonly CountedTrial[],
  setting: { unit: PressureUnit; pressure: number; tolerance: number },
  trialSeconds: number,
): string {
  const at = `At ${formatPressure(setting.pressure, setting.unit)}`;
  const near = trialsAt(trials, setting.unit, setting.pressure, setting.tolerance);
  const byDelay = new Map<number, { trials: number; failures: number }>();
  for (const { sparkDelayS, lit } of near) {
    if (sparkDelayS === undefined) continue;
    const delayS = comparedDelay(sparkDelayS);
    const count = byDelay.get(delayS) ?? { trials: 0, failures: 0 };
    byDelay.set(delayS, { trials: count.trials + 1, failures: count.failures + Number(!lit) });
  }
  const unknown = near.filter(({ sparkDelayS, lit }) => sparkDelayS === undefined && !lit).length;
  const failedUnknown =
    unknown === 0
      ? ''
      : ` ${unknown === 1 ? 'One trial' : `${unknown} trials`} failed there with a spark at an unknown moment.`;
  if (byDelay.size === 0)
    return `${at} no trial was made of which the moment of the spark is known: nothing shows at which moments it lights.${failedUnknown}`;
  const tried = [...byDelay].toSorted(([a], [b]) => a - b);
  const failed = tried.filter(([, { failures }]) => failures > 0);
  if (failed.length > 0) {
    const each = failed.map(
      ([delayS, { trials, failures }]) => `${failures} of ${trials} failed with the spark ${formatSpark(delayS)}`,
    );
    return `${at} it does not light at every moment of the trial for ignition: ${each.join('; ')}.${failedUnknown}`;
  }
  const longest = tried.at(-1)![0];
  const moments = tried.map(([delayS]) => formatSpark(delayS)).join(', ');
  const untried =
    longest < trialSeconds
      ? ` A ${longest > 0 ? 'later' : 'delayed'} spark, up to the ${formatSeconds(trialSeconds, 0)} of the trial for ignition, was not tried.`
      : '';
  return unknown === 0
    ? `${at} it lit at every moment of the trial for ignition that was tried: spark ${moments}.${untried}`
    : `${at} it lit with the spark ${moments}.${failedUnknown}${untried}`;
}
