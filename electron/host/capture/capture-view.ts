import { purgeSecondsOf } from '../../../shared/model/trials/valid-trials.ts';
import type { z } from 'zod';
import { purgeUntil } from '../../../shared/burner-state/purge.ts';
import type { CaptureView } from '../../../shared/contract/api.ts';
import { purgeShortfall } from '../../../shared/burner-state/trials/trial-entry.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Running } from '../burner/running-trial.ts';
import type { HostContext } from '../host-context.ts';
import type { CaptureRow } from '../store/read/capture-rows.ts';
import { currentMarks, isRegulatorTurned } from './lifecycle-rows.ts';
import { marksOf, metersOf, notesOf, setupOf } from '../store/read/capture-rows.ts';
import { summaryOf } from '../store/read/list-captures.ts';
import { trialsOf } from '../store/trials.ts';

/** A capture as the workbench shows it. */
export function viewCapture(context: HostContext, row: CaptureRow): z.input<typeof CaptureView> {
  const { db } = context.store;
  const setup = setupOf(row);
  const marks = marksOf(db, row.key);
  const here = context.recorder.target()?.key === row.key;
  const current = here ? currentMarks(context, row.key, marks) : marks;
  const turned = here && isRegulatorTurned(context, row.key, current);
  const purgeUntilS = here ? purgeUntil(current, setup) : undefined;
  return {
    ...summaryOf(db, row.key),
    setup,
    meters: metersOf(db, row.key),
    marks,
    trials: trialsOf(db, row.key),
    notes: notesOf(db, row.key),
    ...(here && runningView(context.running, row.key, setup)),
    ...(turned && { regulatorTurned: true as const }),
    ...(purgeUntilS !== undefined && { purgeUntilS }),
  };
}

/** The running trial of this capture and what was announced for the next, as far as the page needs it. */
function runningView({ trial, announced }: Running, key: number, setup: Setup) {
  const stated = setup.sparkWithGas ? 0 : undefined;
  const own = trial?.key === key ? trial : undefined;
  const sparkDelayS = own?.announcedDelayS ?? stated;
  const short = own?.gas && purgeShortfall(own.gas.purge, purgeSecondsOf(setup));
  return {
    ...(announced?.key === key && { announcedSparkS: announced.sparkDelayS }),
    ...(own && {
      runningTrial: {
        startedS: own.startedS,
        ...(sparkDelayS !== undefined && { sparkDelayS }),
        ...(own.pressure && { pressure: own.pressure.value, unit: own.pressure.unit }),
        knownBy: own.knownBy,
        ...(own.gas && { gasS: own.gas.atS }),
        ...(own.over && { over: own.over.why }),
        ...(short !== undefined && { purgeShort: short }),
        ...(own.undecided && { undecided: own.undecided }),
      },
    }),
  };
}
