import type { StateSpan } from '../burner-state/track.ts';
import { comesIn } from '../model/burner-words.ts';
import type { Trial } from '../model/capture.ts';
import type { Study } from './study.ts';

/** A clock of one's own and a note written down afterwards are off by some seconds. */
const aboutS = 5;
/** Detector, meters and the states behind them show a flame by so much later than it lit, seconds. */
const seenLateS = 2;
/** Less than this of doubt, seconds, is that of a valve that opens. */
const doubtS = 1;
/** A flame that burned for longer was held, and its signal has built up, seconds. */
const heldS = 4;
/** One whose signal stays below this share of what is required is weak, however slow the detector. */
const weakShare = 0.75;

/** A trial that is entered as lit, and what the meters show of it instead. */
export interface TrialNotShown {
  atS: number;
  what: 'dark' | 'out-again' | 'weak';
  /** Highest signal while its gas was on, in the unit of the sweep. */
  most: number;
}

/**
 * Trials that are entered as lit although gas came on about then and both meters, which were sound, showed no flame within the trial's
 * length, one that went out in it, or a signal far below what is required: the entry is wrong, or the detector did not see the flame;
 * either way nothing is proved. A trial without a time, or without gas about it, is taken as it was entered.
 */
export function trialsNotShown(
  study: Pick<Study, 'tracked' | 'sweep' | 'interval' | 'settings'>,
  trials: readonly Trial[],
): TrialNotShown[] {
  const { tracked, settings } = study;
  const gasOns = gasOnsOf(tracked.spans);
  return trials.flatMap(({ elapsedS: atS, lit }) => {
    if (!lit || atS === undefined) return [];
    // One that is written down as it ends may be nearer to the next gas.
    const about = gasOns.filter(([first]) => Math.abs(first!.from_s - atS) <= settings.trialSeconds + aboutS);
    const shown = about.map((spans) => against(study, spans));
    return shown[0] && shown.every((each) => each !== undefined) ? [{ atS, ...shown[0] }] : [];
  });
}

/** The spans of each time that gas came on after it had been shut, until it was shut off again. */
function gasOnsOf(spans: readonly StateSpan[]): StateSpan[][] {
  const found: StateSpan[][] = [];
  let isShut = false;
  let isOn = false;
  for (const span of spans) {
    if (span.gas === 'shut' || span.gas === 'closing') [isShut, isOn] = [span.gas === 'shut', false];
    else if (isShut && comesIn(span.gas)) {
      [isShut, isOn] = [false, true];
      found.push([span]);
    } else if (isOn) found.at(-1)!.push(span);
  }
  return found;
}

/** What speaks against a flame that was proved while gas was on; undefined where one was, and where nobody can tell. */
function against(
  { sweep, interval, settings: { trialSeconds } }: Pick<Study, 'sweep' | 'interval' | 'settings'>,
  spans: readonly StateSpan[],
): Omit<TrialNotShown, 'atS'> | undefined {
  const [gasS, endS] = [spans[0]!.from_s, spans.at(-1)!.to_s];
  const during = spans.filter(({ from_s }) => from_s <= gasS + trialSeconds + seenLateS);
  if (secondsOf(during.filter(isDoubtful)) > doubtS) return undefined;
  const { time, value } = sweep.wholeSignal;
  const most = value.reduce(
    (top, each, i) => (time[i]! >= gasS && time[i]! <= endS ? Math.max(top, each) : top),
    -Infinity,
  );
  if (!during.some(shows)) return { what: 'dark', most };
  // A flame that was held goes out with its valve, although that may leak.
  const wasHeld = secondsOf(spans.filter(shows)) > heldS;
  if (!wasHeld) return spans.at(-1)!.flame === 'lost' ? { what: 'out-again', most } : undefined;
  return most < weakShare * interval.required.value ? { what: 'weak', most } : undefined;
}

/** Whether a flame takes hold or burns by this state. */
const shows = ({ flame }: StateSpan): boolean => flame === 'lighting' || flame === 'burning' || flame === 'unsteady';
const isDoubtful = ({ gas, flame }: StateSpan): boolean => gas === 'unknown' || flame === 'unknown';
const secondsOf = (spans: readonly StateSpan[]): number =>
  spans.reduce((sum, { from_s, to_s }) => sum + to_s - from_s, 0);
