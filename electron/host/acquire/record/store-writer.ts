import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Appender } from '../../store/append.ts';
import { OwnershipLost } from '../../store/append.ts';
import { storeFault } from '../../store/store-fault.ts';

/** The capture that is being recorded. `zeroMs` is the monotonic time of elapsed 0. */
export interface Target {
  id: string;
  key: number;
  zeroMs: number;
  appender: Appender;
}

/** Writes into the capture that is being recorded, and keeps the fault while the store refuses. */
export interface StoreWriter {
  target(): Target | undefined;
  setTarget(target: Target | undefined): void;
  /**
   * Writes with `work`, into a new capture when another host has taken over the target.
   * False when the store refused; true, without any work, when there is no target.
   */
  write(work: (into: Target) => void): boolean;
  /** Nothing is pending anymore. */
  allWritten(): void;
  /** Whether the last attempt was refused. */
  isRefused(): boolean;
  /** Why the store refuses, once people should know. */
  fault(): Fault | undefined;
}

export interface WriterContext {
  storeFile: string;
  /** How many entries have not been stored: people are told when the store refuses. */
  pendingCount(): number;
  onFaultChange(): void;
  /** Another host has taken over the capture: gives a new one of our own for what comes now. May throw like the store. */
  onOwnershipLost(lost: Target): Target;
  onBug(name: string, error: unknown): void;
}

// Another process that is writing just now need not be reported; one that never stops must be.
const toleratedBusyRefusals = 3;

export function createStoreWriter(context: WriterContext): StoreWriter {
  const { storeFile, onFaultChange } = context;
  let target: Target | undefined;
  let currentFault: Fault | undefined;
  let refusals = 0;

  const refused = (error: unknown) => {
    refusals += 1;
    // When ownership is lost and no new capture can be made yet, the store gives its reason at the next attempt.
    let cause =
      error instanceof OwnershipLost
        ? fault('store-unavailable', { file: storeFile, reason: 'it is busy' })
        : storeFault(error, storeFile, context.pendingCount());
    if (!cause) {
      context.onBug('recorder', error);
      cause = fault('internal', { what: 'storing lines' });
    }
    if (cause.code !== 'store-unavailable' || refusals > toleratedBusyRefusals) currentFault = cause;
    onFaultChange();
  };

  /** Continues in a new capture of our own; false when the store refuses that too. */
  const switchTarget = (lost: Target): boolean => {
    try {
      target = context.onOwnershipLost(lost);
      return true;
    } catch (error) {
      if (!storeFault(error, storeFile)) throw error;
      return false;
    }
  };

  const write = (work: (into: Target) => void): boolean => {
    const into = target;
    if (!into) return true;
    try {
      work(into);
      refusals = 0;
      return true;
    } catch (error) {
      if (error instanceof OwnershipLost && switchTarget(into)) return write(work);
      refused(error);
      return false;
    }
  };

  return {
    target: () => target,
    setTarget: (next) => void (target = next),
    write,
    allWritten() {
      refusals = 0;
      if (!currentFault) return;
      currentFault = undefined;
      onFaultChange();
    },
    isRefused: () => refusals > 0,
    fault: () => currentFault,
  };
}
