import { anyMomentWords } from '../light-off/any-moment.ts';
import { lightingBand } from '../light-off/lighting.ts';
import { lightingRegions } from '../light-off/lighting-picture.ts';
import type { AnalysisDetail, AnalysisResult } from '../model/analysis-result.ts';
import type { Study } from './study.ts';

/** What the light-off trials show against pressure and spark delay, about the pressure as left or else the set point. */
export function lightingDetail(
  { lightingModels, trials, sweep, settings }: Study,
  { lightOff }: AnalysisResult,
): Pick<AnalysisDetail, 'lighting'> {
  const { tried } = lightingModels;
  if (tried.length === 0) return {};
  const at = lightOff?.atAsLeft ?? lightOff?.atSetPoint;
  return {
    lighting: {
      tried,
      band: lightingBand(lightingModels, settings.confidence),
      ...(at && {
        regions: lightingRegions(tried, at),
        anyMoment: anyMomentWords(trials, { unit: sweep.pressureUnit, ...at }, settings.trialSeconds),
      }),
    },
  };
}
