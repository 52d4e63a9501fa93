import { analyze } from '../../../shared/analysis/analyze.ts';
import type { AnalysisResult } from '../../../shared/model/results/analysis-result.ts';
import type { WarningCode } from '../../../shared/analysis/warnings/warnings.ts';
import { truthOf } from '../visit/truth/truth.ts';
import type { Ends, VisitTruth } from '../visit/types.ts';
import { drawSimulated } from '../visit/visit.ts';
import { asSeen, type Expected, expectedOf, isRightStatus, type Side } from './expected.ts';

/** One visit to analyze and judge. */
export interface VisitTask {
  kind: string;
  seed: number;
}

/** What is judged of the intervals. */
export const intervalNames = ['low', 'high', 'plateau'] as const;
export type IntervalName = (typeof intervalNames)[number];

/** One interval against the truth, in its own unit. */
export interface JudgedInterval {
  held: boolean;
  value: number;
  ci: readonly [number, number];
  truth: number;
}

/** How the answer to one visit compares with what was true. */
export interface AnswerVerdict extends VisitTask {
  /** Code of the fault where the capture was refused. */
  refused?: string;
  /** What is wrong with the status of the signal interval, in words. */
  wrongStatus?: string;
  setPoint: 'none' | 'provisional' | 'warned' | 'confident';
  /** Where a set point that is not provisional lies outside the true window, in words; warned of or not. */
  outside?: string;
  judged: Partial<Record<IntervalName, JudgedInterval>>;
  ms: number;
}

/** Warnings that say nothing against the ends: what light-off proves, what was left out, what the maker's range costs. */
const harmless: ReadonlySet<string> = new Set<WarningCode>([
  'no-light-offs',
  'light-off-not-proved',
  'few-light-offs',
  'light-off-late',
  'self-check',
  'gas-shut',
  'clipped-plateau',
  'outside-tested',
  'maker-range-costs',
  'ratio-of-gauge-pressures',
  'minimum-signal-unit',
]);
/** Warnings that say that a pressure has not been shown to light. */
const unproved: ReadonlySet<string> = new Set<WarningCode>(['no-light-offs', 'light-off-not-proved']);

/** Draws one visit, analyzes what is on record of it, and compares the answer with the truth. */
export function run({ kind, seed }: VisitTask): AnswerVerdict {
  const { simulated: whole, capture } = drawSimulated(kind, seed);
  const simulated = asSeen(whole, capture);
  const truth = truthOf(simulated, capture.readings);
  const began = performance.now();
  const found = analyze(capture);
  const ms = performance.now() - began;
  if (!found.ok) return { kind, seed, refused: found.fault.code, setPoint: 'none', judged: {}, ms };
  const { result } = found.value;
  const expected = expectedOf(simulated, capture, truth);
  const { status } = result.signalInterval;
  const outside = outsideWords(result, expected, shiftOf(truth));
  return {
    kind,
    seed,
    ...(!isRightStatus(status, expected) && { wrongStatus: statusWords(result, expected) }),
    setPoint: confidenceOf(result),
    ...(outside && { outside }),
    judged: judgedIntervals(result, expected, truth),
    ms,
  };
}

function confidenceOf({ setPoint, warnings }: AnalysisResult): AnswerVerdict['setPoint'] {
  if (!setPoint) return 'none';
  if (setPoint.provisional) return 'provisional';
  return warnings.some(({ code }) => !harmless.has(code)) ? 'warned' : 'confident';
}

/** By how much the manometer showed too much in the end: what it shows is what a set point is turned to. */
const shiftOf = ({ meterFaults }: VisitTruth): number =>
  meterFaults.reduce((sum, { kind, by = 0 }) => (kind === 'zero-shift' ? sum + by : sum), 0);

const show = (value: number | undefined) => (value === undefined ? 'open' : value.toPrecision(4));

function outsideWords({ setPoint, warnings, window }: AnalysisResult, expected: Expected, shift: number) {
  if (!setPoint || setPoint.provisional) return undefined;
  const at = setPoint.value - shift;
  const isIn = ({ low = -Infinity, high = Infinity }: Ends) => at >= low && at <= high;
  // Where nothing claims that it lights there, its light-off is not judged.
  const isClaimed = !warnings.some(({ code }) => unproved.has(code));
  const limits = isClaimed ? expected.window : expected.burning;
  if (isIn(limits)) return undefined;
  return `${show(setPoint.value)} in ${show(window.low?.value)} to ${show(window.high?.value)}, true window ${show(limits.low)} to ${show(limits.high)}; ${warnings.map(({ code }) => code).join(' ')}`;
}

function statusWords(
  { signalInterval: { status, low, high }, warnings, setPoint }: AnalysisResult,
  { reached, ends }: Expected,
) {
  const side = (name: Side) => `${name} ${reached[name] === 'yes' ? 'reached' : 'not reached'} at ${show(ends[name])}`;
  const kind = !setPoint ? 'no set point' : setPoint.provisional ? 'provisional' : 'NOT provisional';
  return `${status}, ${show(low?.value)} to ${show(high?.value)}; ${side('low')}, ${side('high')}; ${kind}; ${warnings.map(({ code }) => code).join(' ')}`;
}

function judgedIntervals(
  { signalInterval, plateau }: AnalysisResult,
  { ends, reached, plateau: [cold, warm] }: Expected,
  truth: VisitTruth,
): AnswerVerdict['judged'] {
  const shift = shiftOf(truth);
  const judged: AnswerVerdict['judged'] = {};
  // While a zero shifts the end is displayed at either place, and between them.
  const judge = ({ value, ci }: { value: number; ci: readonly [number, number] }, is: number, by = 0) => ({
    held: ci[0] <= Math.max(is, is + by) && ci[1] >= Math.min(is, is + by),
    value,
    ci,
    truth: is,
  });
  for (const side of ['low', 'high'] as const) {
    const [found, end] = [signalInterval[side], ends[side]];
    if (found?.bounded && end !== undefined && reached[side] !== 'no') judged[side] = judge(found, end, shift);
  }
  if (Number.isFinite(plateau.value)) judged.plateau = judge(plateau, warm, cold - warm);
  return judged;
}
