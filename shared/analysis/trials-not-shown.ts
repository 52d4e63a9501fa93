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

/** A signal that stays below this share of what is required is weak, however slowly it builds up; seconds of flame that show it, and that it was held. */
const weakShare = 0.75;
const shownForS = 4;

/** A trial that is entered as lit, and what the meters show of it. `most`: highest signal, in the unit of the sweep. */
export interface UnprovedTrial {
  atS: number;
  what: 'dark' | 'out-again' | 'weak';
  most: number;
}

/**
 * Trials that are entered as lit although gas came on about then and both meters, which were sound, showed no flame within the trial's
 * length, one that went out in it, or a signal far below what is required: the entry is wrong, or the detector did not see the flame;
 * either way nothing is proved. A trial without a time, or without gas about it, is taken as it was entered.
 */
export function litWithoutFlame(
  { tracked, sweep, interval, settings: { trialSeconds } }: Pick<Study, 'tracked' | 'sweep' | 'interval' | 'settings'>,
  trials: readonly Trial[],
): UnprovedTrial[] {
  const { spans } = tracked;
  const { time, value } = sweep.wholeSignal;
  // With those of a trial that is written down as it ends.
  const cameOn = spans.flatMap(({ gas, from_s }, i) => {
    const before = spans.slice(0, i).findLast((span) => span.gas !== 'unknown');
    return comesIn(gas) && before?.gas === 'shut' ? [{ i, gasS: from_s }] : [];
  });
  const mostBetween = (fromS: number, toS: number): number =>
    value.reduce((most, each, k) => (time[k]! >= fromS && time[k]! <= toS ? Math.max(most, each) : most), -Infinity);
  const shown = ({ i, gasS }: { i: number; gasS: number }): Omit<UnprovedTrial, 'atS'> | undefined => {
    const off = spans.findIndex(({ gas }, k) => k > i && (gas === 'closing' || gas === 'shut'));
    const whole = spans.slice(i, off < 0 ? undefined : off);
    const during = whole.filter(({ from_s }) => from_s <= gasS + trialSeconds + seenLateS);
    const most = mostBetween(gasS, whole.at(-1)!.to_s);
    if (secondsOf(during.filter(isDoubtful)) > doubtS) return undefined;
    if (!during.some(shows)) return { what: 'dark', most };
    const last = during.findLast((span) => !isDoubtful(span));
    const isShown = secondsOf(whole.filter(shows)) > shownForS;
    // One that was held goes out with its valve, although that may leak.
    if (!isShown && last?.flame === 'lost' && whole.at(-1)!.flame === 'lost') return { what: 'out-again', most };
    const isWeak = isShown && most < weakShare * interval.required.value;
    return isWeak ? { what: 'weak', most } : undefined;
  };
  return trials.flatMap(({ elapsedS: atS, lit }) => {
    if (!lit || atS === undefined) return [];
    const about = cameOn.filter(({ gasS }) => Math.abs(gasS - atS) <= trialSeconds + aboutS).map(shown);
    const [first] = about;
    return first && about.every((each) => each !== undefined) ? [{ atS, ...first }] : [];
  });
}
