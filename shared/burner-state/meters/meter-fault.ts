import { type Fault, fault } from '../../model/faults.ts';
import type { MeterTrouble } from './meter-trouble.ts';

/** The trouble of a meter in words: one that repeats itself does send readings, and its cable is sound. */
export function meterFault(meter: 'manometer' | 'flame signal meter', { kind }: { kind: MeterTrouble }): Fault {
  if (kind === 'off') return fault('manometer-off');
  return kind === 'frozen' ? fault('meter-frozen', { meter }) : fault('meter-no-reading', { meter });
}
