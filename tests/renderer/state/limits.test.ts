import { expect, it } from 'vitest';
import { limitsNow } from '../../../renderer/state/limits.ts';

const setup = {
  makerPressureRange: { low: 1.5, high: 4, unit: 'inH2O' as const },
  minimumSignal: { value: 1.25, unit: 'V' as const },
};
const judged = (status?: 'recording' | 'interrupted' | 'complete') =>
  limitsNow(status && { status }, setup, 'inH2O', 'V');

it('judges live readings by the visit that is recorded, or that comes next', () => {
  for (const limits of [judged(), judged('recording')])
    expect(limits).toMatchObject({ makerRange: { low: 1.5, high: 4 }, minimumSignal: 1.25 });
});

it('calls nothing in range by a capture that is not being recorded: the meters may be on another burner', () => {
  for (const limits of [judged('interrupted'), judged('complete')])
    expect([limits.makerRange, limits.minimumSignal]).toEqual([undefined, undefined]);
});
