import type { StateSpan } from '../../../burner-state/track.ts';
import { burns } from './gas-off.ts';

/** A loss of the flame with gas on; seconds. */
export interface LossWithGasOn {
  fromS: number;
  /** When gas was shut or a flame burned again; infinite where neither was seen. */
  toS: number;
  /** When a flame burned again, whether or not gas was shut before; infinite where none did. */
  litS: number;
  /** No flame came back before gas was shut, or at all. */
  isForGood: boolean;
}

/** The losses that the burner's states tell, each from its first moment. A flame that went out when its gas was shut is none. */
export function lossesWithGasOn(spans: readonly StateSpan[]): LossWithGasOn[] {
  return spans.flatMap((span, i) => {
    if (span.flame !== 'lost' || !spans.slice(0, i).some(burns)) return [];
    const before = spans.slice(0, i).findLast((each) => burns(each) || each.flame === 'lost');
    if (before?.flame === 'lost') return [];
    const later = spans.slice(i + 1);
    const end = later.find((each) => burns(each) || each.gas === 'shut' || each.gas === 'closing');
    return [
      {
        fromS: span.from_s,
        toS: end?.from_s ?? Infinity,
        litS: later.find(burns)?.from_s ?? Infinity,
        isForGood: !end || !burns(end),
      },
    ];
  });
}
