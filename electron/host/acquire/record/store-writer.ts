import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Appender } from '../../store/append.ts';
import { TakenOver } from '../../store/append.ts';
import { storeFault } from '../../store/store-fault.ts';

/** Where a recording goes. `zeroMs` is the monotonic time of elapsed 0. */
export interface Target {
  id: string;
  key: number;
  zeroMs: number;
  appender: Appender;
}

/** Writes into what is being recorded, and knows why when the store refuses. */
export interface StoreWriter {
  target(): Target | undefined;
  aim(target: Target | undefined): void;
  /**
   * Writes with `work`, in the capture that takes the place of the target when another host has taken that up.
   * False when the store refused; true, without any work, when there is no target.
   */
  write(work: (into: Target) => void): boolean;
  /** Everything that waited is written. */
  caughtUp(): void;
  /** Whether the last try was refused. */
  isRefused(): boolean;
  /** Why the store refuses, once that is worth people's attention. */
  trouble(): Fault | undefined;
}

export interface WriterContext {
  storeFile: string;
  /** How many lines wait: what people are told when the store refuses. */
  waiting(): number;
  onTrouble(): void;
  /** Another host has taken up what was being recorded: gives a capture of our own for what comes now. May throw like the store. */
  onTakenOver(lost: Target): Target;
  onBug(name: string, error: unknown): void;
}

// Another process that writes just now is no news; one that goes on and on is.
const busyTolerated = 3;

export function createStoreWriter(around: WriterContext): StoreWriter {
  const { storeFile, onTrouble } = around;
  let target: Target | undefined;
  let trouble: Fault | undefined;
  let refusals = 0;

  const refused = (error: unknown) => {
    refusals += 1;
    // Of a capture that is another's now and cannot be left yet, the store will say why at the next try.
    let why =
      error instanceof TakenOver
        ? fault('store-unavailable', { file: storeFile, reason: 'it is busy' })
        : storeFault(error, storeFile, around.waiting());
    if (!why) {
      around.onBug('recorder', error);
      why = fault('internal', { what: 'storing lines' });
    }
    if (why.code !== 'store-unavailable' || refusals > busyTolerated) trouble = why;
    onTrouble();
  };

  /** Goes on in a capture of our own; false when the store refuses that too. */
  const moveOn = (lost: Target): boolean => {
    try {
      target = around.onTakenOver(lost);
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
      if (error instanceof TakenOver && moveOn(into)) return write(work);
      refused(error);
      return false;
    }
  };

  return {
    target: () => target,
    aim: (next) => void (target = next),
    write,
    caughtUp() {
      refusals = 0;
      if (!trouble) return;
      trouble = undefined;
      onTrouble();
    },
    isRefused: () => refusals > 0,
    trouble: () => trouble,
  };
}
