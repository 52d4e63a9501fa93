import { createElement, type ReactElement } from 'react';
import { BeginTrial } from '../../../renderer/light-off/BeginTrial.tsx';
import type { BurnerView, CaptureView } from '../../../shared/contract/api.ts';
import type { Mark } from '../../../shared/model/capture.ts';

/** A burner of which nothing is known but that its gas is shut and its purge is seen for `purgedS` of 60 s. */
export const shutBurner = (purgedS = 60): BurnerView => ({
  gas: 'shut',
  flame: 'out',
  regulator: 'at-rest',
  phase: 'purge',
  probability: 1,
  purge: { needed: false, purgedS, waitedS: 0, wantedS: 60 },
  air: { confirmed: true },
});

/**
 * What the place offers before the first trial of a recording; `announcedSparkS` where a delayed spark was announced for it, `purgeLeftS`
 * of the purge after an earlier one, `marks` of the recording so far.
 */
export function beginTrial(announcedSparkS?: number, purgeLeftS = 0, marks: readonly Mark[] = []): ReactElement {
  const capture = {
    id: 'c',
    status: 'recording',
    trials: [],
    marks,
    setup: {},
    units: {},
    announcedSparkS,
  } as unknown as CaptureView;
  const limits = { purgeSeconds: 60, trialSeconds: 10 } as Parameters<typeof BeginTrial>[0]['limits'];
  return createElement(BeginTrial, { capture, limits, purgeLeftS, now: 100 });
}
