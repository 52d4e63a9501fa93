import { formatPressure, formatSpark } from '../../shared/model/format.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';
import { stopsShort } from './plan-words.ts';

/**
 * Which trial comes next, large; why is said beside it. Where the plan asks for more and no trial is advised, why. A delayed spark that was
 * announced goes before the advice.
 *
 * @param announcedSparkS  spark delay announced for the next trial, seconds after gas
 */
export function NextTrial({ advice, announcedSparkS }: { advice: CaptureAdvice; announcedSparkS: number | undefined }) {
  const { next, pressureUnit, reason } = advice;
  if (!next) return stopsShort(advice) ? <p>{reason}</p> : null;
  const advised = `${formatPressure(next.pressure, pressureUnit)}, spark ${formatSpark(next.sparkDelay_s)}`;
  const isOther = announcedSparkS !== undefined && announcedSparkS > 0 !== next.sparkDelay_s > 0;
  return (
    <div className="next-trial">
      <strong>
        {isOther ? `Next trial: spark ${formatSpark(announcedSparkS)}, as announced` : `Next trial: ${advised}`}
      </strong>
      {isOther && <p>Advised: {advised}.</p>}
    </div>
  );
}
