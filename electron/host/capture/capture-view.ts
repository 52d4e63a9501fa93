import type { z } from 'zod';
import { purgeUntil } from '../../../shared/burner-state/purge.ts';
import type { CaptureView } from '../../../shared/contract/api.ts';
import type { HostContext } from '../host-context.ts';
import type { CaptureRow } from '../store/read/capture-rows.ts';
import { currentMarks } from './lifecycle-rows.ts';
import { marksOf, metersOf, notesOf, setupOf, toSummary } from '../store/read/capture-rows.ts';
import { trialsOf } from '../store/trials.ts';

/** A capture as the workbench shows it. */
export function viewCapture(context: HostContext, row: CaptureRow): z.input<typeof CaptureView> {
  const { db } = context.store;
  const setup = setupOf(row);
  const marks = marksOf(db, row.key);
  const here = context.recorder.target()?.key === row.key;
  const purgeUntilS = here ? purgeUntil(currentMarks(context, row.key, marks), setup) : undefined;
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
