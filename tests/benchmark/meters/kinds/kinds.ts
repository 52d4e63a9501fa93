import type { MeterKind } from '../kind.ts';
import { comparisonKinds } from './comparisons.ts';
import { meterKinds } from './meters.ts';
import { plainKinds } from './plain.ts';

/** Every kind of this section; a new one goes to the end of its list. */
export const kinds: readonly MeterKind[] = [...comparisonKinds, ...meterKinds, ...plainKinds];
