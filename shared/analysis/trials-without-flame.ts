import type { StateSpan } from '../burner-state/track.ts';
import type { Trial } from '../model/capture.ts';
import { comesIn } from '../model/burner-words.ts';
import type { Study } from './study.ts';

/** A clock of one's own and a note written down afterwards are off by some seconds. */
const aboutS = 5;
/** Detector, meters and the states behind them show a flame by so much later than it lit, seconds. */
const seenLateS = 2;
/** Less than this of doubt, seconds, is that of a valve that opens. */
const doubtS = 1;

/** Whether a flame takes hold or burns by this state. */
const shows = ({ flame }: StateSpan): boolean => flame === 'lighting' || flame === 'burning' || flame === 'unsteady';
const isDoubtful = ({ gas, flame }: StateSpan): boolean => gas === 'unknown' || flame === 'unknown';
const secondsOf = (spans: readonly StateSpan[]): number =>
  spans.reduce((sum, { from_s, to_s }) => sum + to_s - from_s, 0);

/**
 * Trials that are entered as lit although gas came on about then and both meters, which were sound, showed no flame within the trial's
 * length: the entry is wrong, or the detector did not see the flame; either way nothing is proved. A trial without a time, or without gas
 * about it, is taken as it was entered.
 */
export function litWithoutFlame(
  { tracked, settings: { trialSeconds } }: Pick<Study, 'tracked' | 'settings'>,
  trials: readonly Trial[],
): (Trial & { elapsedS: number })[] {
  const { spans } = tracked;
  // With those of a trial that is written down as it ends.
  const cameOn = spans.flatMap(({ gas, from_s }, i) => {
    const before = spans.slice(0, i).findLast((span) => span.gas !== 'unknown');
    return comesIn(gas) && before?.gas === 'shut' ? [{ i, gasS: from_s }] : [];
  });
  const isDark = ({ i, gasS }: { i: number; gasS: number }): boolean => {
    const off = spans.findIndex(({ gas }, k) => k > i && gas === 'shut');
    const during = spans
      .slice(i, off < 0 ? undefined : off)
      .filter(({ from_s }) => from_s <= gasS + trialSeconds + seenLateS);
    return !during.some(shows) && secondsOf(during.filter(isDoubtful)) <= doubtS;
  };
  return trials.flatMap((trial) => {
    const { elapsedS, lit } = trial;
    if (!lit || elapsedS === undefined) return [];
    const about = cameOn.filter(({ gasS }) => Math.abs(gasS - elapsedS) <= trialSeconds + aboutS);
    return about.length > 0 && about.every(isDark) ? [{ ...trial, elapsedS }] : [];
  });
}
