import { formatPressure, formatSpark } from '../../shared/model/format.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';

/** Which trial comes next, large; why is said beside it. */
export function NextTrial({ advice: { next, pressureUnit } }: { advice: CaptureAdvice }) {
  if (!next) return null;
  return (
    <p className="next-trial">
      <strong>
        Next trial: {formatPressure(next.pressure, pressureUnit)}, spark {formatSpark(next.sparkDelay_s)}
      </strong>
    </p>
  );
}
