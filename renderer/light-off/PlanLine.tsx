import { mustShutGas } from '../../shared/burner-state/trials/trial-words.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { noSettingWords } from '../../shared/light-off/count-words.ts';
import { judgedTrials, lastLitOf } from '../../shared/model/trials/valid-trials.ts';
import { useConnection } from '../state/connection.ts';
import { Shape } from '../ui/Shape.tsx';
import { agreeWords, planAsked } from './plan-words.ts';
import { useAdviceNow } from './use-advice.ts';
import { useLiveBurner } from './use-live-burner.ts';

/** Whether the plan is met at the setting, large, and how far it is; what it asks for until that is known. */
export function PlanLine({ capture }: { capture: CaptureView }) {
  const known = useAdviceNow(capture);
  const isLost = useConnection() === 'lost';
  const burner = useLiveBurner();
  // Beside gas that is to be shut nothing speaks of trials.
  if (isLost || (capture.status === 'recording' && burner && mustShutGas(burner, lastLitOf(capture)))) return null;
  // A failure may have left no set point, so that there is nothing that a plan could be met at.
  const isUnset = known && !known.plan && judgedTrials(capture.trials, capture.setup).length > 0;
  const plan = known?.plan ?? (isUnset ? { met: false, counts: noSettingWords } : undefined);
  const agree = capture.status === 'recording' && known && !plan?.met ? agreeWords(capture, known.proof) : undefined;
  if (!plan) return <p>{planAsked(capture)}</p>;
  return (
    <div className="plan-line" data-met={plan.met}>
      <strong>
        <Shape name={plan.met ? 'check' : 'half-circle'} size={26} />
        {plan.met ? 'Plan met' : 'Plan not met'}
      </strong>
      <p>{plan.counts}</p>
      {agree && (
        <p>
          <strong>{agree}</strong>
        </p>
      )}
    </div>
  );
}
