import type { FlameState, GasState } from '../../model/burner-words.ts';
import { formatSeconds } from '../../model/format.ts';
import { trialPhase } from './trial.ts';

/** What the words of a running trial follow from. Times in seconds. */
export interface TrialSituation {
  /** Since the gas came on, or since the button was pressed where no meter has shown the gas. */
  elapsedS: number;
  /** Gas flows this long before the spark; undefined: nobody knows when the spark comes. */
  sparkDelayS: number | undefined;
  /** Length of the trial for ignition. */
  trialSeconds: number;
  /** Whether the meters have shown the gas of this trial. */
  sawGas: boolean;
  /** Gas came on before the purge was over. */
  tooEarly?: boolean;
  /** The flame signal is below the minimum that was entered: what is seen proves no flame yet. */
  isBelowMinimum?: boolean;
  /** What the burner does now; undefined when the host says nothing. */
  burner: { gas: GasState; flame: FlameState; alarm?: unknown } | undefined;
}

export const trialWordKinds = [
  'no-gas',
  'gas-on',
  'gas-first',
  'spark-now',
  'spark',
  'lit',
  'shut',
  'danger',
  'unknown',
] as const;

/** What is said of a running trial: large, and in a line below. */
export interface TrialWords {
  kind: (typeof trialWordKinds)[number];
  title: string;
  detail: string;
}

const danger = { kind: 'danger', title: 'Gas off. Full purge.' } as const;

/**
 * The words of a running trial. They follow what the burner does; the clock decides only what it can: when the spark is due, and from
 * when on gas without a flame is a danger. An alarm outweighs everything.
 */
export function trialWords({
  elapsedS,
  sparkDelayS,
  trialSeconds,
  sawGas,
  tooEarly,
  isBelowMinimum,
  burner,
}: TrialSituation): TrialWords {
  const isLate = elapsedS >= trialSeconds;
  if (burner?.alarm) return { ...danger, detail: 'Shut the gas now.' };
  if (tooEarly && mayFlowUnlit(burner)) return { ...danger, detail: 'Shut the gas now. It came on too early.' };
  if (!burner || isUnknown(burner)) {
    const isOn = burner?.gas === 'flowing' || burner?.gas === 'opening';
    if (isOn && isLate) return { ...danger, detail: 'Gas flows and no flame can be seen for longer than the trial.' };
    if (isOn)
      return {
        kind: 'unknown',
        title: 'Gas on: look',
        detail: 'No meter proves a flame. Gas off unless you see it burn.',
      };
    const detail = isLate
      ? 'The trial time is over. No flame: gas off, full purge.'
      : `Look at the flame. Spark: ${sparkDelayS === undefined ? 'not known' : `${formatSeconds(sparkDelayS)} after gas`}.`;
    return { kind: 'unknown', title: 'Unknown: look', detail };
  }
  const { gas, flame } = burner;
  if (gas === 'shut' || gas === 'closing')
    return sawGas
      ? { kind: 'shut', title: 'Gas shut', detail: 'Purge in full before the next trial.' }
      : { kind: 'no-gas', title: 'No gas yet', detail: 'The manometer shows no gas.' };
  const burns = flame === 'burning' || flame === 'unsteady';
  // Once the trial is over, what dips below the minimum was proved before, or the record says that it was not.
  if (burns && isBelowMinimum && !isLate)
    return {
      kind: 'gas-on',
      title: 'Signal weak',
      detail: `It is below the minimum: no proved flame yet. Gas off at ${formatSeconds(trialSeconds)} at the latest.`,
    };
  if (flame === 'burning') return { kind: 'lit', title: 'Lit and held', detail: 'Gas flows and the flame burns.' };
  if (flame === 'unsteady') return { kind: 'lit', title: 'Lit, unsteady', detail: 'Gas flows and the flame flickers.' };
  if (flame === 'lost') return { ...danger, detail: 'The flame is lost and gas flows.' };
  if (isLate) return { ...danger, detail: 'Gas flows without a proved flame for longer than the trial.' };
  const detail = `No proved flame yet. Gas off at ${formatSeconds(trialSeconds)} at the latest.`;
  if (sparkDelayS === undefined) return { kind: 'gas-on', title: 'Gas on', detail };
  // The control sparks by itself: nobody is to do anything now.
  if (sparkDelayS === 0) return { kind: 'spark', title: 'Gas and spark on', detail };
  switch (trialPhase(elapsedS, sparkDelayS, trialSeconds)) {
    case 'gas-first':
      if (flame === 'lighting')
        return { kind: 'gas-on', title: 'A flame before its spark', detail: `No spark now. ${detail}` };
      return { kind: 'gas-first', title: 'Gas on, no spark yet', detail: `Spark at ${formatSeconds(sparkDelayS)}.` };
    case 'spark-now':
      return { kind: 'spark-now', title: 'Spark now', detail };
    default:
      return { kind: 'spark', title: 'Gas and spark on', detail };
  }
}

/** Whether gas may flow over which no flame is proved. */
const mayFlowUnlit = (burner: TrialSituation['burner']): boolean =>
  burner?.flame !== 'burning' && burner?.flame !== 'unsteady' && burner?.gas !== 'shut' && burner?.gas !== 'closing';

/** Whether it cannot be told if gas flows unlit. A flame that burns has gas, and shut gas needs no flame to be known. */
const isUnknown = ({ gas, flame }: NonNullable<TrialSituation['burner']>): boolean => {
  if (flame === 'burning' || flame === 'unsteady' || gas === 'shut' || gas === 'closing') return false;
  return gas === 'unknown' || flame === 'unknown';
};

/** What the burner does before the next trial. */
interface BetweenTrials {
  gas: GasState;
  flame: FlameState;
  alarm?: unknown;
  /** The gas is that of a trial, which is about to be recognized: it came on from shut gas after a full purge. */
  trialGas?: true | undefined;
}

/**
 * What is said before the next trial while gas is not shown shut, or under an alarm. Gas over which nothing burns, or whose trial was
 * entered as not lit, is to be shut now; only a flame that burns after a trial that lit leaves time, and gas that begins a trial.
 *
 * @param lastLit  whether the last trial lit; undefined before the first
 */
export function gasOnWords(
  { gas, flame, alarm, trialGas }: BetweenTrials,
  lastLit: boolean | undefined,
): { kind: 'danger' | 'purge' | 'gas-on'; title: string; detail: string } {
  if (alarm) return { kind: 'danger', title: 'Shut the gas now', detail: 'Then purge in full.' };
  if (trialGas) return { kind: 'gas-on', title: 'Gas comes on', detail: 'A light-off trial begins.' };
  const burns = flame === 'burning' || flame === 'unsteady';
  const isSafe = lastLit !== false && (burns || gas === 'closing' || (gas === 'unknown' && lastLit === undefined));
  if (isSafe)
    return {
      kind: 'purge',
      title: gas === 'unknown' ? 'Gas: unknown' : gas === 'closing' ? 'Gas is shutting off' : 'Gas is on',
      detail: 'A purge counts from the moment at which gas is shut and nothing burns.',
    };
  if (lastLit !== false && gas !== 'unknown' && flame === 'unknown')
    return {
      kind: 'danger',
      title: 'Gas on: look',
      detail: 'No meter proves a flame. Gas off unless you see it burn.',
    };
  // What is being shut is not asked to be shut; but a pressure that is only turned down looks the same for a moment.
  if (gas === 'closing')
    return { kind: 'danger', title: 'Gas is shutting off', detail: 'See that it shuts. Then purge in full.' };
  const why =
    gas === 'unknown'
      ? 'The manometer does not show whether gas is on.'
      : burns
        ? 'The trial was entered as not lit, and gas is on.'
        : 'Gas is on and no flame is proved.';
  return { kind: 'danger', title: 'Shut the gas now', detail: `${why} Then purge in full.` };
}

/** Whether gas is to be shut before anything else, so that nothing may be said that leads to another trial. */
export const mustShutGas = (burner: BetweenTrials, lastLit: boolean | undefined): boolean =>
  burner.alarm !== undefined || (burner.gas !== 'shut' && gasOnWords(burner, lastLit).kind === 'danger');
