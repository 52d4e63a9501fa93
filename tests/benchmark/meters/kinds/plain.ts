import { analyze } from '../../../../shared/analysis/analyze.ts';
import type { AnalysisResult } from '../../../../shared/model/results/analysis-result.ts';
import type { TrueCurve } from '../../sweep/burner.ts';
import { truthOf } from '../../sweep/truth.ts';
import { drawsOf, fileOf, plainFacts, sweepOf } from '../draw.ts';
import type { CaseVerdict, MeterKind } from '../kind.ts';

/** What none of these warnings may be raised by: sound meters on a sound burner, swept down, up and back. */
const meterCodes = ['meter-frozen', 'no-flame', 'clocks-apart', 'clipped-plateau', 'manometer-slow'];

function plain(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 20);
  const { readings } = sweepOf(plainFacts(draws), draws);
  const outcome = analyze(fileOf(readings));
  if (!outcome.ok) return { good: false, found: outcome.fault.code };
  const { warnings, setPoint } = outcome.value.result;
  const wrong = warnings.map(({ code }) => code).filter((code) => meterCodes.includes(code));
  return { good: wrong.length === 0 && setPoint !== undefined, found: wrong.join(' ') };
}

/** A flat top of the curve that no amplifier cuts: quiet, with coarse digits at times. */
function flatTop(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 21);
  const facts = plainFacts(draws);
  const digits = { pressure: 0.001, signal: draws.oneOf([0.001, 0.01, 0.05]) };
  const { readings } = sweepOf({ ...facts, digits, white: draws.between(0.001, 0.03) }, draws);
  const outcome = analyze(fileOf(readings));
  if (!outcome.ok) return { good: false, found: outcome.fault.code };
  const codes = outcome.value.result.warnings.map(({ code }) => code);
  return { good: !codes.includes('clipped-plateau'), found: outcome.value.explanation.model };
}

/** A curve with two plateaus 15 to 30 % apart, side by side. Its steps are logistic, as are its shoulders. */
function twoPlateaus(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 22);
  const facts = plainFacts(draws);
  const curve: TrueCurve = facts.curve;
  curve.low = draws.between(0.8, 1.2);
  curve.high = draws.between(4.2, 5);
  facts.tested = [curve.low - 0.4, curve.high + 0.5];
  const share = draws.between(0.15, 0.3);
  const at = curve.low + (curve.high - curve.low) * draws.between(0.3, 0.7);
  const width = draws.between(0.02, 0.06);
  const lowerIsLow = draws.oneOf([true, false]);
  curve.step = { at, width, share, side: lowerIsLow ? -1 : 1 };
  const truth = truthOf(curve, facts.tested, {});
  const outcome = analyze(fileOf(sweepOf(facts, draws).readings));
  if (!outcome.ok) return { good: true, found: outcome.fault.code };
  return judgePlateaus(outcome.value.result, truth.low!, truth.high!);
}

/** Right: no final set point, or one inside the middle half of the true window on the plateau that is said. */
function judgePlateaus({ setPoint, warnings }: AnalysisResult, low: number, high: number): CaseVerdict {
  const said = warnings.some(({ code }) => code === 'two-plateaus');
  const quarter = (high - low) / 4;
  const stands = setPoint === undefined || (setPoint.value > low + quarter && setPoint.value < high - quarter);
  const where = setPoint ? `${setPoint.value.toFixed(2)} in ${low.toFixed(2)} to ${high.toFixed(2)}` : 'none';
  return { good: said && stands, found: `${said ? '' : 'not said, '}${where}` };
}

export const plainKinds: MeterKind[] = [
  { name: 'sound meters', wanted: 'a set point and no warning of a meter', least: 0.98, judge: plain },
  { name: 'flat top, not clipped', wanted: 'not called clipped', least: 0.98, judge: flatTop },
  {
    name: 'two plateaus 15-30 % apart',
    wanted: 'said, and the set point in the middle half of one',
    least: 0.95,
    judge: twoPlateaus,
  },
];
