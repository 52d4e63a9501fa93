import { trackCapture } from '../../../shared/burner-state/track.ts';
import type { StateName } from '../visit/types.ts';
import { drawVisit } from '../visit/visit.ts';
import { followLive } from './follow-live.ts';
import { type AlarmVerdict, judgeAlarms } from './judge-alarms.ts';
import { judgeTrials, trialsInHindsight, type TrialVerdict } from './judge-trials.ts';
import { scoreStates, type Seconds } from './score-states.ts';

/** One visit to judge. */
export interface VisitTask {
  kind: string;
  seed: number;
}

export interface VisitVerdict extends VisitTask, AlarmVerdict {
  hindsight: Record<StateName, Seconds>;
  live: Record<StateName, Seconds>;
  /** Hours in which the flame burned. */
  burningHours: number;
  /** Trials as they are recognized with hindsight, and as they are entered while the visit is recorded. */
  trials: TrialVerdict;
  liveTrials: TrialVerdict;
  ms: number;
}

/** Draws a visit, tracks it live and with hindsight, and compares with what was true. */
export function run({ kind, seed }: VisitTask): VisitVerdict {
  const visit = drawVisit(kind, seed);
  const started = performance.now();
  const tracked = trackCapture(visit.capture, visit.capture.setup);
  const ms = performance.now() - started;
  let k = 0;
  const hindsight = scoreStates(
    visit,
    (s) => {
      while (k > 0 && tracked.spans[k]!.from_s > s) k -= 1;
      while (k + 1 < tracked.spans.length && tracked.spans[k]!.to_s <= s) k += 1;
      return tracked.spans[k];
    },
    false,
  );
  const { words, alarms, trials } = followLive(visit);
  const wordsAt = (s: number) => words.get(Math.floor(s * 10)) ?? words.get(Math.floor(s * 10) + 1);
  const burning = visit.truth.segments.filter(({ flame }) => flame === 'burning' || flame === 'unsteady');
  return {
    kind,
    seed,
    hindsight,
    live: scoreStates(visit, wordsAt, true),
    ...judgeAlarms(visit, alarms),
    burningHours: burning.reduce((sum, { from_s, to_s }) => sum + to_s - from_s, 0) / 3600,
    trials: judgeTrials(visit, trialsInHindsight(visit, tracked)),
    liveTrials: judgeTrials(visit, trials.entered, true),
    ms,
  };
}
