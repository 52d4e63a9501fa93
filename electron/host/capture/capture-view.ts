import type { z } from 'zod';
import type { CaptureView } from '../../../shared/contract/api.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { setupDefaults } from '../../../shared/model/setup.ts';
import type { HostContext } from '../host-context.ts';
import type { CaptureRow } from '../store/read/capture-rows.ts';
import { marksOf, metersOf, notesOf, setupOf, toSummary, trialsOf } from '../store/read/capture-rows.ts';

/** A capture as the workbench shows it. */
export function viewCapture(context: HostContext, row: CaptureRow): z.input<typeof CaptureView> {
  const { db } = context.store;
  const setup = setupOf(row);
  const marks = marksOf(db, row.key);
  const here = context.recorder.target()?.key === row.key;
  const purgeUntilS = here ? purgeEnd(marks, setup) : undefined;
  return {
    ...toSummary(db, row),
    setup,
    meters: metersOf(db, row.key),
    marks,
    trials: trialsOf(db, row.key),
    notes: notesOf(db, row.key),
    ...(here && context.running.trial && { runningTrial: context.running.trial }),
    ...(purgeUntilS !== undefined && { purgeUntilS }),
  };
}

/** Elapsed time at which the purge after the last trial is over. It counts from the marks, so a restart does not shorten it. */
export function purgeEnd(marks: readonly Mark[], setup: Setup): number | undefined {
  const last = marks.findLast((mark) => mark.kind === 'trial-end');
  return last && last.elapsedS + (setup.purgeSeconds ?? setupDefaults.purgeSeconds);
}
