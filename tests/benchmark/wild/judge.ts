import { analyze } from '../../../shared/analysis/analyze.ts';
import { type EndBounds, lowerBounds } from './bound.ts';
import { drawWildSweep, wellBehaved } from './kinds.ts';

export const wildQuantities = ['low', 'high', 'plateau', 'lag'] as const;
export type WildQuantity = (typeof wildQuantities)[number];

export interface WildTask {
  kind: string;
  seed: number;
}

/** An answer against the truth; `bound`: the smallest standard error that the readings allow. */
export interface WildJudged {
  error: number;
  width: number;
  held: boolean;
  bound?: number;
}

/** How the answer to one sweep compares with what is true. */
export interface WildVerdict extends WildTask {
  refused?: string;
  wrong?: string;
  judged: Partial<Record<WildQuantity, WildJudged>>;
  /** A set point outside the middle half of the true window about which nothing is said. */
  misplaced?: string;
  warnings: string[];
}

/** Warnings that say nothing against a set point. */
const harmless = new Set(['no-light-offs', 'few-light-offs', 'fan-only-unknown', 'self-check', 'gas-shut']);

export function run({ kind, seed }: WildTask): WildVerdict {
  const sweep = drawWildSweep(kind, seed);
  const { truth } = sweep;
  const found = analyze(sweep.capture);
  if (!found.ok) return { kind, seed, refused: found.fault.code, judged: {}, warnings: [] };
  const { signalInterval, plateau, lag_s, setPoint, warnings: said } = found.value.result;
  const { status, low, high } = signalInterval;
  const bounds: EndBounds = wellBehaved.has(kind) && truth.status === 'bounded' ? lowerBounds(sweep) : {};
  const judge = (
    { value, ci: [from, to] }: { value: number; ci: readonly [number, number] },
    expected: number,
    bound?: number,
  ) => ({
    error: value - expected,
    width: to - from,
    held: from <= expected && expected <= to,
    ...(bound !== undefined && { bound }),
  });
  const warnings = said.map(({ code }) => code);
  const isSilent = setPoint !== undefined && !setPoint.provisional && warnings.every((code) => harmless.has(code));
  const quarter = truth.low !== undefined && truth.high !== undefined ? (truth.high - truth.low) / 4 : undefined;
  const isMisplaced =
    isSilent &&
    (quarter === undefined || setPoint.value < truth.low! + quarter || setPoint.value > truth.high! - quarter);
  return {
    kind,
    seed,
    ...(status !== truth.status && { wrong: `${status} for ${truth.status}` }),
    judged: {
      ...(low?.bounded && truth.low !== undefined && { low: judge(low, truth.low, bounds.low) }),
      ...(high?.bounded && truth.high !== undefined && { high: judge(high, truth.high, bounds.high) }),
      plateau: judge(plateau, truth.plateau),
      lag: judge(lag_s, truth.lagS),
    },
    ...(isMisplaced && {
      misplaced: `${setPoint.value.toFixed(2)} in ${truth.low?.toFixed(2)} to ${truth.high?.toFixed(2)}`,
    }),
    warnings,
  };
}
