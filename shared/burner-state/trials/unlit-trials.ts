import type { Capture } from '../../model/capture.ts';
import { comesIn } from '../../model/burner-words.ts';
import { trialSecondsOf, validTrials } from '../../model/trials/valid-trials.ts';
import type { Setup } from '../../model/setup.ts';
import type { Moment } from '../chain/label.ts';
import { stepS } from '../chain/states.ts';
import { withoutFlame } from '../doubts.ts';

/** An entry is about gas that comes on this close to its time, seconds. */
const nearS = 3;
/** A spark ends with the trial; the detector and the meter are this much later at most, seconds. */
const lateS = 3;

/**
 * Takes back the flame of a trial that the technician entered as not lit: the signal may be that of the spark, and whoever looked knows
 * better. Only where it ended with the trial: one that burns on was lit too late, or its entry has the wrong time. Changes `moments`.
 *
 * @param first  step of the capture's own time at which `moments` begin
 */
export function takeBackUnlit(moments: Moment[], first: number, { trials }: Capture, setup: Setup): void {
  const stepOf = (elapsedS: number) => Math.round(elapsedS / stepS) - first;
  for (const { lit, elapsedS, knownBy } of validTrials(trials)) {
    if (lit || elapsedS === undefined || knownBy === 'meters') continue;
    const isNear = (t: number) => Math.abs(t - stepOf(elapsedS)) * stepS <= nearS;
    const from = moments.findIndex(({ gas }, t) => isNear(t) && comesIn(gas));
    if (from < 0) continue;
    const until = stepOf(elapsedS + trialSecondsOf(setup) + lateS);
    if (until < moments.length && burns(moments[until]!)) continue;
    for (let t = from; t < Math.min(until, moments.length); t += 1) moments[t] = withoutFlame(moments[t]!);
  }
}

const burns = ({ flame }: Moment): boolean => flame === 'burning' || flame === 'unsteady';
