import type { CaptureView } from '../../shared/contract/api.ts';
import { formatPressure, formatSpark } from '../../shared/model/format.ts';
import { useConnection } from '../state/connection.ts';
import { useAdvice } from './use-advice.ts';

/** Which trial comes next, large; why is said beside it. Nothing before there is a window, nor while it is calculated. */
export function NextTrial({ capture }: { capture: CaptureView }) {
  const { data, error, isFetching } = useAdvice(capture);
  const isLost = useConnection() === 'lost';
  if (!data || error || isFetching || isLost) return null;
  const { next, pressureUnit } = data;
  return (
    <p className="next-trial">
      <strong>
        {next
          ? `Next trial: ${formatPressure(next.pressure, pressureUnit)}, spark ${formatSpark(next.sparkDelay_s)}`
          : 'No further trial is advised.'}
      </strong>
    </p>
  );
}
