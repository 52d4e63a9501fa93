import type { Decision } from '../../../shared/model/results/analysis-result.ts';
import { useConnection } from '../../state/connection.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import { StatusWord, type Tone } from '../StatusWord.tsx';

const tones: Record<Decision, Tone> = {
  pass: 'good',
  'conditional-pass': 'warning',
  'conditional-fail': 'warning',
  fail: 'bad',
};

/**
 * A decision on a setting, in words. Under an alarm nothing passes: there is one thing to do, and it stands above. Without the host nobody
 * knows whether it still holds.
 */
export function Verdict({ decision, children }: { decision: Decision; children: string }) {
  const hasAlarm = useBurnerState()?.alarm !== undefined;
  const isLost = useConnection() === 'lost';
  return hasAlarm || isLost ? (
    <StatusWord tone="bad">{hasAlarm ? 'Alarm' : 'Connection lost'}: no decision now</StatusWord>
  ) : (
    <StatusWord tone={tones[decision]}>{children}</StatusWord>
  );
}
