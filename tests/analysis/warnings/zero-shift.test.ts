import { describe, expect, it } from 'vitest';
import type { Setup } from '../../../shared/model/setup.ts';
import { answer } from '../answer.ts';
import { shiftedInTheSweep } from './warning-cases.ts';

const said = (by: number, fanOnly?: number, setup: Setup = {}) => {
  const { warnings } = answer({ ...shiftedInTheSweep(by, fanOnly), setup }).result;
  return warnings.filter(({ code }) => code === 'zero-shifted' || code === 'gas-not-shut-off');
};

describe('a manometer that shows shut gas lower after the sweep than before', () => {
  it('has lost its zero, or the fan runs differently: both are said with what was read', () => {
    const [warning, ...more] = said(-0.12);
    expect(more).toEqual([]);
    expect(warning).toMatchObject({ code: 'zero-shifted' });
    expect(warning!.message).toContain('0.30 inH2O');
    expect(warning!.message).toContain('0.18 inH2O');
  });
  it('is told also where no fan shows, and where the fan-only pressure was entered', () => {
    expect(said(-0.12, 0)).toMatchObject([{ code: 'zero-shifted' }]);
    expect(said(-0.12, 0.3, { fanOnlyPressure: { value: 0.3, unit: 'inH2O' } })).toMatchObject([
      { code: 'zero-shifted' },
    ]);
  });
  it('says nothing of a manometer that drifts by a few hundredths, nor of a fan that was stopped', () => {
    expect(said(0)).toEqual([]);
    expect(said(-0.03)).toEqual([]);
    expect(said(-0.3, 0.3)).toEqual([]);
  });
  it('is not said of one that shows more: that may be a leak, or more air', () => {
    expect(said(0.12).map(({ code }) => code)).not.toContain('zero-shifted');
  });
});
