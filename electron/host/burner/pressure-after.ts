import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import { median } from '../../../shared/numerics/descriptive.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { HostContext } from '../host-context.ts';
import { readingsSince } from '../store/read/readings-since.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';
import { addPressureAfter } from '../store/trials.ts';

/** Adds to a stored trial what the manometer shows once its gas is shut: a pilot that lit may burn for minutes before. */
export interface PressureAfter {
  /** The trial `id` of the capture `key` is stored, with a pressure in `unit`, and its gas still flows. */
  awaitShut(key: number, id: number, unit: PressureUnit): void;
  /** Gas came on for another trial. */
  forget(): void;
  /** One more statement about the burner, while this capture is recorded: a trial of another one is not waited for any longer. */
  step(now: BurnerNow, target: Target): void;
}

/** Gas has to be shut for so long; the first second is left out, in which the pressure still falls. */
const shutForS = 3;
const fallsForS = 1;

/** Makes one. A manometer that fails while gas is shut leaves the trial without the pressure after it. */
export function createPressureAfter(context: () => HostContext): PressureAfter {
  let open: { key: number; id: number; unit: PressureUnit } | undefined;
  let shutSinceS: number | undefined;
  return {
    awaitShut(key, id, unit) {
      open = { key, id, unit };
      shutSinceS = undefined;
    },
    forget() {
      open = undefined;
    },
    step(now, target) {
      if (open?.key !== target.key) open = undefined;
      if (!open) return;
      shutSinceS = now.moment.gas === 'shut' && !now.pressureTrouble ? (shutSinceS ?? now.atS) : undefined;
      if (shutSinceS === undefined || now.atS - shutSinceS < shutForS) return;
      const { key, id, unit } = open;
      const fromS = shutSinceS + fallsForS - target.zeroMs / 1000;
      open = undefined;
      const { store, owner, topics } = context();
      ignoringStoreFaults(store.file, () => {
        const shown = readingsSince(store.db, key, fromS).flatMap(({ role, value, unit: own }) =>
          role === 'pilot_pressure' && Number.isFinite(value)
            ? [convertPressure(value, own as PressureUnit, unit)]
            : [],
        );
        if (shown.length === 0) return;
        addPressureAfter(store.db, key, owner, id, { value: median(Float64Array.from(shown)), unit });
        topics.captures.notify();
      });
    },
  };
}
