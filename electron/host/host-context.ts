import type { BurnerHistory } from './burner/burner-history.ts';
import type { FollowedBurner } from './burner/burner-watch.ts';
import type { Running } from './burner/running-trial.ts';
import type { Clock } from './clock.ts';
import type { JobRunner } from './jobs/job-runner.ts';
import type { LiveValues } from './acquire/meter/live-values.ts';
import type { Meters } from './acquire/meter/meters.ts';
import type { OpenPort } from './acquire/ports/port.ts';
import type { PracticePorts } from './acquire/ports/practice-ports.ts';
import type { Recorder } from './acquire/record/recorder.ts';
import type { NetworkSwitch } from './acquire/ports/network-switch.ts';
import type { Owner } from './store/owner.ts';
import type { Store } from './store/open.ts';
import type { StoreWatch } from './capture/store-watch.ts';
import type { Topic } from './topic.ts';

/** Everything that handlers and the capture lifecycle share; made once in host.ts. */
export interface HostContext {
  /** What the burner does, from the live readings. */
  burner: FollowedBurner;
  /** What it did since the capture that is being recorded began. */
  burnerHistory: BurnerHistory;
  facts: { version: string; host: 'desktop' | 'browser' | 'command'; dataFolder: string; practice: boolean };
  store: Store;
  owner: Owner;
  clock: Clock;
  /** Opens serial and practice ports, and those on the network while `network` allows it. */
  openPort: OpenPort;
  network: NetworkSwitch;
  meters: Meters;
  recorder: Recorder;
  live: LiveValues;
  /** Undefined when the host has no practice bench. */
  practice: PracticePorts | undefined;
  jobs: JobRunner;
  /** For what a page waits for while it is typed: jobs of milliseconds, in a process of their own, never behind long ones. */
  lists: JobRunner;
  storeWatch: StoreWatch;
  /** The light-off trial that runs now, and what was announced for the next; only a trial that was ended is in the store. */
  running: Running;
  topics: { burner: Topic; captures: Topic; meters: Topic; store: Topic };
}
