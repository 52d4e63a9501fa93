import { describe, expect, it } from 'vitest';
import { verdictDoubt } from '../../../shared/burner-state/trials/verdict.ts';

const dark = { sawFlame: false, flame: 'dark', isSignalSound: true, shown: '0.02 V' } as const;
const burning = { sawFlame: true, flame: 'burning', isSignalSound: true, shown: '4.62 V' } as const;

describe('a verdict on a trial', () => {
  it('is taken where the meters say the same', () => {
    expect(verdictDoubt(true, burning)).toBeUndefined();
    expect(verdictDoubt(false, dark)).toBeUndefined();
  });
  it('"did not light" at a burning signal is questioned, with what the meters say', () => {
    expect(verdictDoubt(false, burning)).toMatchObject({ code: 'verdict-contradicts-meters' });
    expect(verdictDoubt(false, burning)?.message).toContain('4.62 V');
    // Already burning, although the statement about half a second ago does not say so yet.
    expect(verdictDoubt(false, { ...dark, flame: 'burning' })?.code).toBe('verdict-contradicts-meters');
  });
  it('"lit" in the dark is questioned; after a flame that burned and went out with the gas it is not', () => {
    expect(verdictDoubt(true, dark)?.code).toBe('verdict-contradicts-meters');
    expect(verdictDoubt(true, dark)?.message).toContain('0.02 V');
    expect(verdictDoubt(true, { ...burning, flame: 'out' })).toBeUndefined();
  });
  it('is taken where the meters cannot tell: trouble, an unknown flame, or one that builds up just now', () => {
    expect(verdictDoubt(true, { ...dark, isSignalSound: false })).toBeUndefined();
    expect(verdictDoubt(false, { ...burning, isSignalSound: false })).toBeUndefined();
    expect(verdictDoubt(true, { ...dark, flame: 'unknown' })).toBeUndefined();
    expect(verdictDoubt(true, { ...dark, flame: 'lighting' })).toBeUndefined();
  });
});
