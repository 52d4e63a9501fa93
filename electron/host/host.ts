import type { Api } from '../../shared/contract/api.ts';
import type { Handlers } from '../../shared/contract/serve.ts';
import type { Fault } from '../../shared/model/faults.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { ok } from '../../shared/model/outcome.ts';
import { createLiveValues } from './acquire/meter/live-values.ts';
import { createMeters } from './acquire/meter/meters.ts';
import { portOpener } from './acquire/ports/open-port.ts';
import type { OpenPort } from './acquire/ports/port.ts';
import { createPracticePorts } from './acquire/ports/practice-ports.ts';
import { createRecorder } from './acquire/record/recorder.ts';
import type { Timing } from './acquire/protocol/timing.ts';
import { defaultTiming } from './acquire/protocol/timing.ts';
import { createUnitNotes } from './acquire/record/unit-notes.ts';
import { forkProcess } from './jobs/fork-process.ts';
import { createJobRunner } from './jobs/job-runner.ts';
import type { StartProcess } from './jobs/running-process.ts';
import type { Clock } from './clock.ts';
import { systemClock } from './clock.ts';
import { withStoreFaults } from './store-fault-handlers.ts';
import { aboutHandlers } from './handlers/about.ts';
import { createBurnerHistory } from './burner/burner-history.ts';
import { watchBurner } from './burner/watch-burner.ts';
import { burnerStateHandlers } from './handlers/burner-state.ts';
import { burnerHandlers } from './handlers/burners.ts';
import { captureHandlers } from './handlers/captures.ts';
import { markHandlers } from './handlers/marks.ts';
import { meterHandlers } from './handlers/meters.ts';
import { networkHandlers } from './handlers/network.ts';
import { portHandlers } from './handlers/ports.ts';
import { practiceHandlers } from './handlers/practice.ts';
import { profileHandlers } from './handlers/profiles.ts';
import { readingHandlers } from './handlers/readings.ts';
import { storeHandlers } from './handlers/store.ts';
import { trialHandlers } from './handlers/trials.ts';
import { jobHandlers } from './handlers/jobs.ts';
import { startHousekeeping } from './capture/housekeeping.ts';
import { createNetworkSwitch } from './acquire/ports/network-switch.ts';
import type { Rescue } from './capture/rescue.ts';
import { rescueLines } from './capture/rescue.ts';
import { createStoreWatch } from './capture/store-watch.ts';
import type { HostContext } from './host-context.ts';
import { recoverOrphans } from './capture/orphans.ts';
import { createOwner } from './store/owner.ts';
import { openStore } from './store/open.ts';
import { ignoringStoreFaults } from './store/store-fault.ts';
import { Topic } from './topic.ts';
import { branchCapture, interruptCapture } from './capture/capture-lifecycle.ts';

export interface HostOptions {
  /** Folder of the store; created when it is missing. */
  dataFolder: string;
  /** Whether there is a practice bench beside the serial ports. */
  practice: boolean;
  version: string;
  host: 'desktop' | 'browser' | 'command';
  /** Called with bugs that cannot be reported to a caller. */
  onBug?: (name: string, error: unknown) => void;
  /** Whether meters on the network may be used in this run; without it the setting saved with the store counts. */
  allowNetwork?: boolean;
  /** For a host that is opened to record at once: what the meters send before the recording starts belongs to it. */
  buffersBeforeStart?: boolean;
  clock?: Clock;
  openPort?: OpenPort;
  /** How the processes for long work are started; otherwise as child processes of Node. */
  startProcess?: StartProcess;
  timing?: Partial<Timing>;
}

/** The whole main side: every call and feed of the contract over one store and one set of ports. */
export interface Host {
  handlers: Handlers<Api>;
  /** Saves what the store refuses (disk full) in a file; undefined when nothing is pending. See `rescueLines`. */
  rescue(out?: string): Promise<Rescue | undefined>;
  /** How many lines and marks the store has not taken yet. */
  pendingCount(): number;
  /** Whether a capture is being recorded by this host. */
  isRecording(): boolean;
  /**
   * Closes everything in order: ports, pending entries, an open recording (it becomes interrupted), the store.
   * What the store refuses is saved in a file; the fault says where.
   */
  close(): Promise<Fault | undefined>;
}

/** Opens the store and everything around it. Fails with `store-damaged`, `store-newer` or `store-unavailable`. */
export function createHost(options: HostOptions): Outcome<Host> {
  const { clock = systemClock, onBug = reportBug } = options;
  const network = createNetworkSwitch(options.dataFolder, options.allowNetwork);
  const openRealPort = options.openPort ?? portOpener(network.allowed);
  const opened = openStore(options.dataFolder);
  if (!opened.ok) return opened;
  const store = opened.value;
  const owner = createOwner();
  // On a full disk captures can still be looked at and exported; this is tried again every second.
  ignoringStoreFaults(store.file, () => recoverOrphans(store.db, owner, clock.wallMs()));

  const timing = { ...defaultTiming, ...options.timing };
  const topics = { burner: new Topic(), captures: new Topic(), meters: new Topic(), store: new Topic() };
  const live = createLiveValues();
  const practice = options.practice ? createPracticePorts(clock) : undefined;
  const openPort: OpenPort = (request) =>
    practice?.has(request.path) ? practice.open(request) : openRealPort(request);
  const storeWatch = createStoreWatch(store, owner, topics.store);
  const recorder = createRecorder({
    clock,
    timing,
    storeFile: store.file,
    buffersBeforeStart: options.buffersBeforeStart ?? false,
    onPublished(lines, stored) {
      live.add(lines);
      burner.add(lines);
      for (const [meter, ownLines] of Map.groupBy(lines, (line) => line.meter)) meter.publish(ownLines);
      topics.meters.notify();
      if (stored > 0) topics.captures.notify();
    },
    onFaultChange: () => topics.store.notify(),
    onOwnershipLost: (lost) => branchCapture(context, lost),
    onBug,
  });
  const noteUnits = createUnitNotes(recorder);
  const meters = createMeters({
    clock,
    timing,
    openPort,
    intake: recorder,
    onLine: (line) => {
      noteUnits(line);
      recorder.accept(line);
    },
    onGap: (text) => recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'gap', text }),
    onChange: () => topics.meters.notify(),
  });
  const burner = watchBurner(() => context);
  const burnerHistory = createBurnerHistory();
  const runner = { folder: options.dataFolder, start: options.startProcess ?? forkProcess, onBug };
  const jobs = createJobRunner(runner);
  const lists = createJobRunner({ ...runner, maxProcesses: 1 });
  if (options.host !== 'command') lists.warm();
  const { version, host, dataFolder } = options;
  const context: HostContext = {
    facts: { version, host, dataFolder, practice: options.practice },
    store,
    owner,
    clock,
    openPort,
    network,
    meters,
    recorder,
    live,
    practice,
    jobs,
    lists,
    storeWatch,
    topics,
    running: { trial: undefined, announced: undefined, enteredNotLit: undefined, unjudged: [] },
    burnerHistory,
    burner,
  };
  const housekeeping = startHousekeeping(context);
  if (!options.buffersBeforeStart) void burner.recallInterrupted();

  return ok({
    handlers: withStoreFaults(
      {
        ...aboutHandlers(context),
        ...storeHandlers(context),
        ...portHandlers(context),
        ...networkHandlers(context),
        ...meterHandlers(context),
        ...burnerStateHandlers(context),
        ...profileHandlers(context),
        ...burnerHandlers(context),
        ...captureHandlers(context),
        ...markHandlers(context),
        ...trialHandlers(context),
        ...readingHandlers(context),
        ...jobHandlers(context),
        ...practiceHandlers(context),
      },
      { file: store.file, pendingCount: () => recorder.pendingCount() },
    ),
    rescue: (out) => rescueLines(context, out),
    pendingCount: () => (recorder.target() ? recorder.pendingCount() : 0),
    isRecording: () => recorder.target() !== undefined,
    async close() {
      housekeeping.stop();
      burner.stop();
      await Promise.all([jobs.stop(), lists.stop()]);
      await meters.stop();
      practice?.stop();
      interruptCapture(context);
      const rescued = await rescueLines(context);
      recorder.stop();
      store.close();
      return rescued?.fault;
    },
  });
}

const reportBug = (name: string, error: unknown): void => {
  process.stderr.write(`Bug in ${name}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
};
