import { comesIn } from '../../model/burner-words.ts';
import { formatElapsed, formatPressure } from '../../model/format.ts';
import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import { convertPressure } from '../../model/units.ts';
import { median } from '../../numerics/descriptive.ts';
import type { Study } from '../study.ts';
import { readingNoise } from '../sweep/series/meter-noise.ts';
import { runsWhere } from '../sweep/series/series.ts';
import { warning } from './warnings.ts';

/** A line that is shut has emptied, and a manometer come to rest, in less than this; shut gas is read over so long. Seconds. */
const comesToRestS = 5;
const readForS = 5;
/** As gas comes on the readings just before may belong to it already, seconds. */
const beforeOnS = 0.5;
/** Less than this, inH2O, is drift of a sound manometer or of the fan; and so many deviations of its noise. */
const leastInH2O = 0.05;
const deviations = 6;

/** What the manometer showed at the end of a stretch of shut gas. Seconds of the capture, the sweep's unit. */
interface Standing {
  atS: number;
  pressure: number;
  /** Gas came on from there. */
  cameOn: boolean;
}

/** What shut gas stood at, once for each time. */
function standings({ tracked, sweep }: Pick<Study, 'tracked' | 'sweep'>): Standing[] {
  const { spans } = tracked;
  const { time, value } = sweep.wholePressure;
  return runsWhere(spans.length, (i) => spans[i]!.gas === 'shut').flatMap(([from, to]) => {
    const cameOn = spans.slice(to).find(({ gas }) => gas !== 'unknown');
    const untilS = spans[to - 1]!.to_s - (cameOn ? beforeOnS : 0);
    const fromS = untilS - readForS;
    if (fromS < spans[from]!.from_s + (from === 0 ? 0 : comesToRestS)) return [];
    const shown = value.filter((_, i) => time[i]! >= fromS && time[i]! <= untilS);
    if (shown.length < 3) return [];
    return [{ atS: untilS, pressure: median(shown), cameOn: comesIn(cameOn?.gas) }];
  });
}

/**
 * Where shut gas stood at another pressure later than when it first came on: the manometer's zero has shifted meanwhile, or the fan runs
 * differently. A fan that has stopped since, a hose that is off, and a fan that runs faster in a purge are no reason.
 */
export function zeroShiftWarnings(study: Study): AnalysisWarning[] {
  const { sweep } = study;
  const least = Math.max(
    convertPressure(leastInH2O, 'inH2O', sweep.pressureUnit),
    deviations * readingNoise(sweep.wholePressure.value),
  );
  const all = standings(study);
  const first = all.find(({ cameOn }) => cameOn);
  if (!first) return [];
  const later = all.filter(({ atS }) => atS > first.atS);
  const moved = later.find(({ pressure, cameOn }) => {
    const by = pressure - first.pressure;
    // One that shows nothing may have lost its hose; of one that shows more, only gas that comes on from there tells it from a purge.
    return Math.abs(by) > least && Math.abs(pressure) > least && (cameOn || by < 0);
  });
  if (!moved) return [];
  const at = (pressure: number) => formatPressure(pressure, sweep.pressureUnit);
  return [
    warning('zero-shifted', {
      before: at(first.pressure),
      beforeAt: formatElapsed(first.atS),
      after: at(moved.pressure),
      afterAt: formatElapsed(moved.atS),
    }),
  ];
}
