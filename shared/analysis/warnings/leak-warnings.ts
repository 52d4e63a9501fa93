import type { StateSpan } from '../../burner-state/track.ts';
import { formatDuration, formatElapsed, formatPressure } from '../../model/format.ts';
import { convertPressure } from '../../model/units.ts';
import { median } from '../../numerics/descriptive.ts';
import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import type { Study } from '../study.ts';
import { warning } from './warnings.ts';

/** A line that is shut has emptied, and a manometer come to rest, in less than this, seconds. */
const comesToRestS = 5;
/** So long must the pressure stand after that, seconds. */
const leastS = 5;

/**
 * Stretches after the valve had closed in which gas still flows by the pressure and nothing burns, at least `leastS` without what the line
 * takes to empty. Seconds of the capture.
 */
function stretchesOfLeak(spans: readonly StateSpan[]): { shutS: number; fromS: number; toS: number }[] {
  return spans.flatMap(({ gas, to_s: shutS }, k) => {
    if (gas !== 'closing' || spans[k + 1]?.gas === 'closing') return [];
    const later = spans.slice(k + 1);
    const over = later.findIndex(
      (span) => span.gas !== 'unknown' && !(span.gas === 'flowing' && span.flame === 'lost'),
    );
    const lost = later.slice(0, over < 0 ? undefined : over).filter(({ flame }) => flame === 'lost');
    const toS = lost.at(-1)?.to_s ?? shutS;
    const fromS = shutS + comesToRestS;
    return toS - fromS >= leastS ? [{ shutS, fromS, toS }] : [];
  });
}

/** The longest stretch in which the pressure stood above that of the fan alone although the valve had closed. */
export function leakWarnings({ tracked, sweep, settings }: Study): AnalysisWarning[] {
  if (!settings.fanOnlyKnown) return [];
  const { time, value } = sweep.wholePressure;
  const [longest] = stretchesOfLeak(tracked.spans).sort((a, b) => b.toS - b.fromS - (a.toS - a.fromS));
  if (!longest) return [];
  const stood = value.filter((_, i) => time[i]! >= longest.fromS && time[i]! <= longest.toS);
  if (stood.length === 0) return [];
  const pressure = median(stood);
  if (convertPressure(pressure - settings.fanOnly, sweep.pressureUnit, 'inH2O') <= 0) return [];
  return [
    warning('gas-not-shut-off', {
      at: formatElapsed(longest.shutS),
      stood: formatPressure(pressure, sweep.pressureUnit),
      fanOnly: formatPressure(settings.fanOnly, sweep.pressureUnit),
      for: formatDuration(longest.toS - longest.shutS),
    }),
  ];
}
