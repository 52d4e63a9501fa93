import { settingOf } from '../light-off/at-setting.ts';
import { anyMomentWords } from '../light-off/any-moment.ts';
import { lightingBand } from '../light-off/lighting-band.ts';
import { lightingRegions } from '../light-off/lighting-regions.ts';
import { lightingWords, longestDelayWords } from '../light-off/lighting-words.ts';
import type { AnalysisResult } from '../model/results/analysis-result.ts';
import type { LightingView } from '../model/results/lighting-view.ts';
import type { Study } from './study.ts';

const percent = (share: number): number => 100 * share;

/**
 * What the light-off trials show against pressure and spark delay, about the pressure as left or else the set point. Undefined without
 * trials whose spark is known.
 */
export function lightingView(
  { lightingModels, lighting, trials, settings, interval }: Study,
  result: AnalysisResult,
): LightingView | undefined {
  const { tried } = lightingModels;
  if (tried.length === 0) return undefined;
  const { lightOff, pressureUnit, confidence, plateau, window, setPoint, asLeft } = result;
  const at = settingOf(lightOff);
  const band = lightingBand(lightingModels, confidence);
  const { low, high } = window;
  return {
    pressureUnit,
    trialSeconds: settings.trialSeconds,
    tried,
    ...(at && { regions: lightingRegions(tried, at) }),
    band: {
      pressure: band.pressure,
      probability: band.probability.map(percent),
      low: band.low.map(percent),
      high: band.high.map(percent),
    },
    signal: {
      pressure: Float64Array.from(interval.curve.pressure),
      percent: Float64Array.from(interval.curve.signal, (signal) => percent(signal / plateau.value)),
    },
    ...(low && high && low.guarded < high.guarded && { window: [low.guarded, high.guarded] }),
    ...(setPoint && { setPoint: setPoint.value }),
    ...(asLeft && { asLeft: asLeft.value }),
    words: [
      ...(at ? [anyMomentWords(trials, { unit: pressureUnit, ...at }, settings.trialSeconds)] : []),
      ...longestDelayWords(tried, pressureUnit),
      ...lightingWords(lighting, pressureUnit, confidence),
    ],
  };
}
