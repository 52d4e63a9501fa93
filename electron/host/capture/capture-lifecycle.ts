import { randomUUID } from 'node:crypto';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import type { BurnerFacts, MeterFacts } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../shared/model/ports/network-port.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { openEnds } from '../../../shared/model/trials/unjudged-trials.ts';
import type { Meter } from '../acquire/meter/meter.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';
import { createAppender } from '../store/append.ts';
import { factsOf, findBurner } from '../store/burners.ts';
import { addMeter, endCapture, insertRecording, markPractice, takeOwnership } from '../store/captures.ts';
import { findProfile } from '../store/profiles.ts';
import { findRowByKey, metersOf, setupOf } from '../store/read/capture-rows.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';
import { captureRow, closingMarks } from './lifecycle-rows.ts';
import { resumeAt } from './resume-at.ts';

export interface StartInput {
  burnerId?: string | undefined;
  technician?: string | undefined;
  setup: Setup;
}

/** A connected meter as it is stored with a capture. */
export const factsOfMeter = ({ port, profile }: Meter): MeterFacts => ({ port, profile: profile.name, reads: profile });

/**
 * Starts a capture with the connected meters; gives its id. Fails with `capture-recording`, `no-meters` or `burner-missing`; throws what
 * the store throws.
 */
export function startCapture(context: HostContext, input: StartInput): Outcome<{ capture: string }> {
  const { store, clock, owner, recorder, meters, topics } = context;
  if (recorder.target()) return fail(fault('capture-recording'));
  if (meters.list().length === 0) return fail(fault('no-meters'));
  const burner = input.burnerId === undefined ? undefined : findBurner(store.db, input.burnerId);
  if (input.burnerId !== undefined && !burner) return fail(fault('burner-missing'));

  const id = randomUUID();
  const nowMs = clock.monotonicMs();
  const zeroMs = recorder.bufferedSinceMs() ?? nowMs;
  const wallMs = Math.round(clock.wallMs() - (nowMs - zeroMs));
  const key = store.db.transaction(() => {
    const inserted = insertRecording(
      store.db,
      {
        id,
        startedAt: isoLocal(wallMs),
        technician: input.technician,
        burner: burner && { id: burner.id, facts: factsOf(burner) },
        setup: input.setup,
      },
      owner,
      wallMs,
    );
    for (const meter of meters.list()) addMeter(store.db, inserted, factsOfMeter(meter));
    return inserted;
  })();
  // What was confirmed of the fan held for another visit.
  context.burner.confirmFan(false);
  recorder.start({ id, key, zeroMs, appender: createAppender(store.db, key, owner) });
  topics.captures.notify();
  return ok({ capture: id });
}

/** Connects the meters of a capture again, so that after a crash nobody has to look for them. */
async function reconnect({ store, meters, network }: HostContext, key: number): Promise<void> {
  const known = new Map(metersOf(store.db, key).map((meter) => [meter.port, meter]));
  for (const { port, profile, reads } of known.values()) {
    if (isNetworkPort(port) && !network.allowed()) continue;
    if (meters.list().some((meter) => meter.port === port)) continue; // another desktop window was quicker
    const found = reads ? checkProfile(reads, profile) : findProfile(store.db, profile);
    if (found.ok) await meters.connect(port, found.value);
  }
}

/**
 * Resumes recording an interrupted capture, with its own meters when none is connected; the pause stays visible as a gap on its time
 * line. Fails with `capture-missing`, `capture-ambiguous`, `capture-closed`, `capture-imported`, `capture-recording`,
 * `capture-elsewhere` or `no-meters`.
 */
export async function continueCapture(context: HostContext, id: string): Promise<Outcome<Record<string, never>>> {
  const { store, clock, owner, recorder, meters, topics } = context;
  if (recorder.target()) return fail(fault('capture-recording'));
  const found = captureRow(context, id);
  if (!found.ok) return found;
  const row = found.value;
  if (row.status === 'complete') return fail(fault('capture-closed'));
  // The meters of a capture from a file, and what is written to them, are somebody else's choice.
  if (row.recorded_here !== 1) return fail(fault('capture-imported'));
  if (meters.list().length === 0) await reconnect(context, row.key);
  if (meters.list().length === 0) return fail(fault('no-meters'));
  if (recorder.target()) return fail(fault('capture-recording'));
  const wallMs = clock.wallMs();
  // All or nothing: a capture that is ours but not recorded could not be resumed again.
  const isOurs = store.db.transaction(() => {
    if (!takeOwnership(store.db, row.key, owner, wallMs)) return false;
    for (const meter of meters.list()) addMeter(store.db, row.key, factsOfMeter(meter));
    return true;
  })();
  if (!isOurs) return fail(fault('capture-elsewhere'));

  const { nowS, text: resumed } = resumeAt(row, wallMs);
  const target = {
    id: row.id,
    key: row.key,
    zeroMs: clock.monotonicMs() - nowS * 1000,
    appender: createAppender(store.db, row.key, owner),
  };
  recorder.start(target);
  for (const mark of closingMarks(context, row.key, row.duration_s, openEnds.interrupted)) recorder.mark(mark);
  recorder.mark({ elapsedS: row.duration_s, kind: 'gap', text: 'recording was interrupted' });
  recorder.mark({ elapsedS: nowS, kind: 'gap', text: resumed });
  topics.captures.notify();
  void context.burner.catchUp(target, row.duration_s);
  return ok({});
}

/**
 * Completes a capture: the one that is being recorded here, or an interrupted one with everything it had. Fails with `capture-missing`,
 * `capture-ambiguous`, `capture-elsewhere`, `trial-running`, `store-gone`, or what the store refuses.
 * @param assumedInterrupted  the caller takes it for interrupted: fails with `capture-goes-on` when it is being recorded again
 */
export function finishCapture(
  context: HostContext,
  id: string,
  assumedInterrupted = false,
): Outcome<Record<string, never>> {
  const { store, owner, meters, recorder, running, topics } = context;
  const found = captureRow(context, id);
  if (!found.ok) return found;
  const row = found.value;
  const isHere = recorder.target()?.key === row.key;
  if (row.status === 'complete' && !isHere) return ok({});
  if (row.status === 'recording' && assumedInterrupted) return fail(fault('capture-goes-on'));
  if (row.status === 'recording' && row.owner_host !== owner.host && !isHere) return fail(fault('capture-elsewhere'));

  let { key } = row;
  let ended: Target | undefined;
  if (isHere) {
    context.burner.settleTrial();
    // Nobody can enter the result of a trial that the meters began while a command records; its mark says that it was cut short.
    if (running.trial?.knownBy === 'meters' && context.facts.host === 'command') running.trial = undefined;
    if (running.trial) return fail(fault('trial-running'));
    for (const meter of meters.list()) meter.flush();
    for (const mark of closingMarks(context, row.key, recorder.elapsedS(), openEnds.finished)) recorder.mark(mark);
    if (store.isGone()) return fail(fault('store-gone', { file: store.file }));
    const finished = recorder.finish();
    if (!finished.ok) return finished;
    ended = finished.value;
    // Another key, when this capture was taken over meanwhile.
    key = ended?.key ?? key;
  } else {
    // It is ours when its status could not be written before.
    const appender = createAppender(store.db, row.key, row.owner_host === owner.host ? owner : undefined);
    const marks = closingMarks(context, row.key, row.duration_s, openEnds.interrupted);
    appender.append(marks.map((mark) => ({ kind: 'mark', mark })));
  }
  let isComplete = false;
  try {
    isComplete = endCapture(store.db, key, owner, 'complete');
  } finally {
    // What is not complete is still being recorded: no line may be lost until it is tried again.
    if (!isComplete && ended) recorder.start(ended);
  }
  if (!isComplete) return fail(fault('capture-elsewhere'));
  // Syncs everything to the disk, so that a finished capture survives a power loss too. It is complete in either case.
  ignoringStoreFaults(store.file, () => store.db.pragma('wal_checkpoint(PASSIVE)'));
  topics.captures.notify();
  return ok({});
}

/**
 * Another host took over the capture that was being recorded here. From now on what the meters send goes into a new capture with the
 * same start, so that nothing is mixed or lost. Throws what the store throws.
 */
export function branchCapture(context: HostContext, { key, id, zeroMs }: Target): Target {
  const { store, owner, clock, meters, storeWatch } = context;
  const original = findRowByKey(store.db, key);
  if (!original) throw new Error(`no capture with key ${key}`);
  const branchId = randomUUID();
  const wallMs = clock.wallMs();
  const branch = store.db.transaction(() => {
    const inserted = insertRecording(
      store.db,
      {
        id: branchId,
        startedAt: original.started_at ?? isoLocal(wallMs),
        technician: original.technician ?? undefined,
        burner:
          original.burner_id === null || original.burner === null
            ? undefined
            : { id: original.burner_id, facts: JSON.parse(original.burner) as BurnerFacts },
        setup: setupOf(original),
      },
      owner,
      wallMs,
    );
    if (original.practice === 1) markPractice(store.db, inserted);
    for (const meter of meters.list()) addMeter(store.db, inserted, factsOfMeter(meter));
    const appender = createAppender(store.db, inserted, owner);
    const elapsedS = Math.max(0, (clock.monotonicMs() - zeroMs) / 1000);
    const text = `continues capture ${id}, which another Pilot Bench took over`;
    appender.append([{ kind: 'mark', mark: { elapsedS, kind: 'gap', text } }]);
    return { id: branchId, key: inserted, zeroMs, appender };
  })();
  storeWatch.noteTakeover(id, branchId);
  return branch;
}

/** The host closes before the technician has finished: the capture stays open, to be continued or completed later. */
export function interruptCapture(context: HostContext): void {
  const { store, owner, recorder, running } = context;
  const target = recorder.target();
  if (!target) return;
  context.burner.settleTrial();
  ignoringStoreFaults(store.file, () => {
    for (const mark of closingMarks(context, target.key, recorder.elapsedS(), openEnds.interrupted))
      recorder.mark(mark);
  });
  running.trial = undefined;
  if (store.isGone()) return; // `rescueLines` saves it in a file
  const ended = recorder.finish();
  // When the store refuses, it becomes interrupted the next time the store is opened.
  const recorded = ended.ok ? ended.value : undefined;
  if (recorded) ignoringStoreFaults(store.file, () => void endCapture(store.db, recorded.key, owner, 'interrupted'));
}
