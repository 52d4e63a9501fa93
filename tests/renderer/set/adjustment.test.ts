import { columnOf } from '../state/column-of.ts';
import { describe, expect, it } from 'vitest';
import { adjustmentTo, asLeftDoubts, isSteady } from '../../../renderer/set/adjustment.ts';

describe('the adjustment', () => {
  it('says to turn in when the pressure is too low, out when it is too high', () => {
    expect(adjustmentTo(2.0, 2.5, 'inH2O').turn).toBe('in');
    expect(adjustmentTo(3.0, 2.5, 'inH2O').turn).toBe('out');
    expect(adjustmentTo(2.0, 2.5, 'inH2O').difference).toBeCloseTo(-0.5, 12);
  });
  it('leaves it within 1 % of the target', () => {
    expect(adjustmentTo(4.96, 5, 'inH2O').turn).toBe('stay');
    expect(adjustmentTo(4.94, 5, 'inH2O').turn).toBe('in');
  });
  it('keeps its word at the edge of the tolerance', () => {
    // 1 % of 2.52 is 0.0252: half as much again is on target still, and only within it does it come on target.
    expect(adjustmentTo(2.494, 2.52, 'inH2O', 'stay').turn).toBe('stay');
    expect(adjustmentTo(2.494, 2.52, 'inH2O', 'in').turn).toBe('in');
    expect(adjustmentTo(2.48, 2.52, 'inH2O', 'stay').turn).toBe('in');
  });
  it('asks for no more than 0.02 inH2O at a small target, in any unit', () => {
    expect(adjustmentTo(0.515, 0.5, 'inH2O').turn).toBe('stay');
    // 0.02 x 249.08891 Pa (NIST SP 811) is 4.98 Pa.
    expect(adjustmentTo(104.9, 100, 'Pa').turn).toBe('stay');
    expect(adjustmentTo(105.1, 100, 'Pa').turn).toBe('out');
  });
});

describe('steady', () => {
  const every = (values: number[]) => columnOf(Array.from(values, (value, i) => [i, value] as const));
  it('looks at the last seconds only', () => {
    expect(isSteady(every([9, 9, 2.4, 2.41, 2.4, 2.39, 2.4]), 6.5, 0.02)).toBe(true);
  });
  it('is not steady while it creeps, with a flagged reading, or with too few readings', () => {
    expect(isSteady(every([2.2, 2.25, 2.3, 2.35, 2.4]), 4, 0.02)).toBe(false);
    expect(isSteady(every([2.4, 2.4, Number.NaN, 2.4]), 3, 0.02)).toBe(false);
    expect(isSteady(every([2.4, 2.4]), 1, 0.02)).toBe(false);
  });
});

describe('what is asked before a pressure is taken as as-left', () => {
  const atRest = { target: 2.28, window: [1.18, 3.37] as [number, number], regulator: 'at-rest' as const };
  it('is nothing on the target, nor where there is no target and no window', () => {
    expect(asLeftDoubts(2.29, atRest, 'inH2O')).toEqual([]);
    expect(asLeftDoubts(2.46, { regulator: 'at-rest' }, 'inH2O')).toEqual([]);
  });
  it('says that a frozen manometer may not show the pressure now', () =>
    expect(asLeftDoubts(2.28, { ...atRest, regulator: 'unknown', isFrozen: true }, 'inH2O')).toEqual([
      'The manometer repeats itself: this may not be the pressure now.',
    ]));
  it('says how often the flame was lost at this pressure', () => {
    const said = (losses: number) => asLeftDoubts(2.28, { ...atRest, losses }, 'inH2O');
    expect(said(0)).toEqual([]);
    expect(said(1)).toEqual(['The flame was lost once at this pressure in this visit.']);
    expect(said(4)).toEqual(['The flame was lost 4 times at this pressure in this visit.']);
  });
  it('names how far off the target it is, and on which side', () => {
    expect(asLeftDoubts(2.46, atRest, 'inH2O')).toEqual(['It is 0.18 inH2O above the target, 2.28 inH2O.']);
    expect(asLeftDoubts(2.1, atRest, 'inH2O')).toEqual(['It is 0.18 inH2O below the target, 2.28 inH2O.']);
  });
  it('never shows the guarded window wider than it is', () => {
    const window: [number, number] = [1.184, 3.366];
    expect(asLeftDoubts(1.183, { window, regulator: 'at-rest' }, 'inH2O')).toEqual([
      'It is outside the guarded window, 1.19 to 3.36 inH2O.',
    ]);
  });
  it('names the window that it is outside of, and a pressure that still moves', () => {
    expect(asLeftDoubts(3.5, { ...atRest, regulator: 'settling' }, 'inH2O')).toEqual([
      'It is 1.22 inH2O above the target, 2.28 inH2O.',
      'It is outside the guarded window, 1.18 to 3.37 inH2O.',
      'The pressure is still changing.',
    ]);
  });
});
