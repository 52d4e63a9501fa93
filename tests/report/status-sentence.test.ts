import { describe, expect, it } from 'vitest';
import { provisionalReasons } from '../../shared/analysis/provisional.ts';
import { study } from '../../shared/analysis/study.ts';
import type { IntervalStatus } from '../../shared/model/results/analysis-result.ts';
import { statusSentence } from '../../shared/report/labels.ts';
import { goodPilot, record, sweepDownAndUp } from '../analysis/burner-by-hand.ts';

const setPoint = {
  value: 2.5,
  rule: 'equal-pressure' as const,
  provisional: false,
  marginLow: 1,
  marginHigh: 1,
  withinMakerRange: true,
};
const told = (status: IntervalStatus, more: Partial<Parameters<typeof statusSentence>[0]> = {}) =>
  statusSentence({ window: { status }, setPoint, warnings: [], ...more });

describe('which ends were found', () => {
  it('is good news only with both ends and a set point that is final', () => {
    expect(told('bounded')).toEqual({ text: 'Both ends were found.', isGood: true });
    expect(told('bounded', { setPoint: { ...setPoint, provisional: true } }).isGood).toBe(false);
    for (const status of ['open-low', 'open-high', 'open-both', 'none'] as const)
      expect(told(status).isGood).toBe(false);
  });

  it('is never "both" beside ends that are not known, nor beside no set point', () => {
    const unknown = [{ code: 'plateau-unknown', message: 'The ends that follow from it are not known.' }];
    for (const more of [{ warnings: unknown }, { setPoint: undefined }]) {
      expect(told('bounded', more).isGood).toBe(false);
      expect(told('bounded', more).text).not.toContain('Both ends were found');
    }
  });

  it('is told one end from both in the reasons of a provisional set point', () => {
    const found = study(record(goodPilot, sweepDownAndUp), {});
    if (!found.ok) throw new Error(found.fault.message);
    const { low, high } = found.value.window;
    const open = <T>(end: T) => ({ ...end, cause: 'tested-end' as const });
    const reasons = (window: object) =>
      provisionalReasons({ ...found.value, window: { ...found.value.window, ...window } }, 2.4);
    expect(reasons({ low: open(low) })).toEqual(['one end of the window was not found']);
    expect(reasons({ low: open(low), high: open(high) })).toEqual(['neither end of the window was found']);
  });
});
