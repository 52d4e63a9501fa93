import { formatPressure, formatSpark } from '../../shared/model/format.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';

/**
 * Which trial comes next, large; why is said beside it. A delayed spark that was announced goes before the advice.
 *
 * @param announcedSparkS  spark delay announced for the next trial, seconds after gas
 */
export function NextTrial({
  advice: { next, pressureUnit },
  announcedSparkS,
}: {
  advice: CaptureAdvice;
  announcedSparkS: number | undefined;
}) {
  if (!next) return null;
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
