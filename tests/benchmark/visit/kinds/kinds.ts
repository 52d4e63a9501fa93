import type { Draft } from '../draft/draft.ts';
import { burnerKinds } from './burner.ts';
import { curveKinds } from './curves.ts';
import { lossKinds } from './losses.ts';
import { faultKinds } from './meter-faults.ts';
import { meterKinds } from './meters.ts';
import { steadyKinds } from './steady.ts';
import { sweepKinds } from './sweeps.ts';
import { trialKinds } from './trials.ts';

/** Changes to the plain visit, by the name of the kind. The name seeds the draws: a new kind leaves the others as they are. */
export const changes: Record<string, (draft: Draft) => void> = {
  plain: () => undefined,
  ...sweepKinds,
  ...lossKinds,
  ...trialKinds,
  ...burnerKinds,
  ...curveKinds,
  ...meterKinds,
  ...faultKinds,
  ...steadyKinds,
};
