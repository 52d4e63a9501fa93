import { z } from 'zod';
import { AnalysisDetail, ComparisonDetail } from '../model/analysis-result.ts';
import { BurnerFacts, Mark, Trial } from '../model/capture.ts';
import { Profile } from '../model/profile.ts';
import { flags, roles } from '../model/reading.ts';
import { Setup } from '../model/setup.ts';
import { call, feed } from './define.ts';

const nothing = z.object({});
const bytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, 'must be bytes');
const numbers = z.custom<Float64Array>((value) => value instanceof Float64Array, 'must be a Float64Array');
const fault = z.object({
  code: z.string(),
  message: z.string(),
  facts: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
});
const ofCapture = z.object({ capture: z.string() });

export const PortInfo = z.object({
  path: z.string(),
  label: z.string(),
  kind: z.enum(['serial', 'practice']),
  /** What the system knows of it: who made the adapter and what it is called, and its serial number. */
  adapter: z.string().optional(),
  serialNumber: z.string().optional(),
});
export type PortInfo = z.infer<typeof PortInfo>;

/**
 * What is heard on one port while nothing is written to it.
 * `listening` until it is known; `connected` (a meter of ours: told from its state, not opened again), `silent`, `lines` (lines of
 * text), `unreadable` (bytes, but no lines of text), `unavailable` (cannot be opened, or the listening was stopped).
 */
export const Heard = z.object({
  path: z.string(),
  status: z.enum(['listening', 'connected', 'silent', 'lines', 'unreadable', 'unavailable']),
  /** The same for people. */
  says: z.string(),
  /** How the port speaks; absent over a network, where the serial server knows. */
  serial: Profile.shape.serial.optional(),
  /** What a line looks like, e.g. "one number a line". */
  line: z.string().optional(),
  /** A line as it came. */
  sample: z.string().optional(),
  /** Profiles that read these lines at this speed, the best first; not `kept`: one made for this port, still to be saved. */
  fits: z.array(z.object({ profile: Profile, kept: z.boolean() })).optional(),
});
export type Heard = z.infer<typeof Heard>;

/** The newest of one channel, for the large numerals. `value` is NaN when flagged. */
export const Latest = z.object({
  role: z.enum(roles),
  unit: z.string(),
  value: z.number().or(z.nan()),
  flag: z.enum(flags).optional(),
  ageMs: z.number(),
});

/**
 * One connected meter.
 * `opening` until its port is open, `waiting` for its first line, `live`, `silent` (open, but nothing came for a while),
 * `unreadable` (lines come, none readable), `lost` (port gone or not openable; tried again).
 */
export const MeterState = z.object({
  port: z.string(),
  profile: z.string(),
  status: z.enum(['opening', 'waiting', 'live', 'silent', 'unreadable', 'lost']),
  fault: fault.optional(),
  linesPerSecond: z.number(),
  lines: z.number().int(),
  latest: z.array(Latest),
  /** The last few raw lines, newest last, control characters shown as escapes. */
  recentLines: z.array(z.string()),
});
export type MeterState = z.infer<typeof MeterState>;

/** Stored readings in columns: `role[i]` indexes `roles`; `flag[i]` is 0 or 1 + index in `flags`; `value` NaN when flagged. */
export const ReadingBatch = z.object({
  /** Number of the last reading in this batch; the next batch begins after it. */
  upTo: z.number().int(),
  role: z.custom<Uint8Array>((value) => value instanceof Uint8Array),
  flag: z.custom<Uint8Array>((value) => value instanceof Uint8Array),
  elapsedS: numbers,
  /** In the unit of the capture for that role: `CaptureSummary.units`. */
  value: numbers,
});
export type ReadingBatch = z.infer<typeof ReadingBatch>;

export const captureStatuses = ['recording', 'complete', 'interrupted'] as const;

export const CaptureSummary = z.object({
  id: z.string(),
  startedAt: z.string(),
  burnerId: z.string().optional(),
  burner: BurnerFacts.optional(),
  technician: z.string().optional(),
  status: z.enum(captureStatuses),
  lines: z.number().int(),
  readings: z.number().int(),
  trials: z.number().int(),
  durationS: z.number(),
  /** Unit in which each role's readings are given out. */
  units: z.partialRecord(z.enum(roles), z.string()),
});
export type CaptureSummary = z.infer<typeof CaptureSummary>;

export const StoredTrial = Trial.extend({ id: z.number().int() });
export type StoredTrial = z.infer<typeof StoredTrial>;

export const CaptureView = CaptureSummary.extend({
  setup: Setup,
  meters: z.array(z.object({ port: z.string(), profile: z.string() })),
  marks: z.array(Mark),
  trials: z.array(StoredTrial),
  notes: z.array(z.object({ at: z.string(), by: z.string().optional(), text: z.string() })),
  /** The trial that is running now. `startedS` is elapsed time. */
  runningTrial: z
    .object({ startedS: z.number(), sparkDelayS: z.number(), pressure: z.number(), unit: z.string() })
    .optional(),
  /** Elapsed time before which no further trial may start: the purge wait. */
  purgeUntilS: z.number().optional(),
});
export type CaptureView = z.infer<typeof CaptureView>;

/**
 * A capture that a file held. `differs` names in what the file differs from the capture that the store has already, and `notices` are
 * sentences: what of the file was not taken, and why. Neither is there when there is nothing to tell.
 */
export const ImportedCapture = z.object({
  id: z.string(),
  added: z.boolean(),
  differs: z.array(z.enum(['readings', 'lines', 'marks', 'trials', 'setup'])).optional(),
  notices: z.array(z.string()).optional(),
});
export type ImportedCapture = z.infer<typeof ImportedCapture>;

export const Burner = BurnerFacts.extend({ id: z.string(), setup: Setup });
export type Burner = z.infer<typeof Burner>;

export const PracticeState = z.object({
  scenario: z.string(),
  scenarios: z.array(z.object({ name: z.string(), description: z.string() })),
  /** Turns of the regulator screw from its lower stop. */
  turns: z.number(),
  turnsMax: z.number(),
  pilotValve: z.boolean(),
  spark: z.boolean(),
  fan: z.boolean(),
  /** Whether the invented flame burns (what one would see through the sight port). */
  flame: z.boolean(),
});
export type PracticeState = z.infer<typeof PracticeState>;

export const api = {
  'about.get': call(
    nothing,
    z.object({
      version: z.string(),
      host: z.enum(['desktop', 'browser', 'command']),
      dataFolder: z.string(),
      practice: z.boolean(),
    }),
  ),

  'ports.list': call(nothing, z.object({ ports: z.array(PortInfo), fault: fault.optional() })),
  /**
   * Listens to ports, all at once, and writes nothing to any. Gives what is known of each, in the order asked, as it changes; ends
   * when all is known, at most half a minute later. Stopping it closes the ports.
   */
  'ports.listen': feed(z.object({ ports: z.array(z.string().min(1).max(300)).min(1).max(32) }), z.array(Heard)),
  /** Whether meters on the network (`tcp://host:port`) may be used. Off until the user switches it on. */
  'network.get': call(nothing, z.object({ allowed: z.boolean() })),
  /** Kept with the store. Switching it off disconnects the meters on the network. */
  'network.allow': call(z.object({ allowed: z.boolean() }), nothing),

  'profiles.list': call(nothing, z.array(z.object({ builtIn: z.boolean(), profile: Profile }))),
  /** Keeps a user's own profile; one of the same name is replaced. */
  'profiles.save': call(z.object({ profile: Profile }), nothing),
  /** Forgets a user's own profile. A meter that is connected with it goes on. */
  'profiles.remove': call(z.object({ name: z.string() }), nothing),

  /** Opens the port at once and keeps trying; its lines show in `meters.live`. */
  'meters.connect': call(z.object({ port: z.string().min(1), profile: z.string() }), nothing),
  'meters.disconnect': call(z.object({ port: z.string() }), nothing),
  /** All connected meters, up to ten times a second while anything changes. */
  'meters.live': feed(nothing, z.array(MeterState)),

  'burners.list': call(nothing, z.array(Burner)),
  /** New without `id`. Gives the id. */
  'burners.save': call(Burner.partial({ id: true }), z.object({ id: z.string() })),

  'captures.list': call(nothing, z.array(CaptureSummary)),
  /** Which captures there are and what each is, whenever that changes: another window or program may have changed it. */
  'captures.statuses': feed(nothing, z.array(CaptureSummary.pick({ id: true, status: true }))),
  'captures.get': call(ofCapture, CaptureView),
  /** The capture as it changes: marks, trials, setup, status, counts. First item at once. */
  'captures.live': feed(ofCapture, CaptureView),
  'captures.start': call(
    z.object({ burnerId: z.string().optional(), technician: z.string().max(200).optional(), setup: Setup }),
    ofCapture,
  ),
  /** Goes on recording an interrupted capture; the pause shows as a gap. */
  'captures.continue': call(ofCapture, nothing),
  /**
   * Ends a recording, or completes an interrupted capture with everything it had. Who takes it for interrupted says so: it is
   * refused with `capture-goes-on` when another window goes on recording it.
   */
  'captures.finish': call(ofCapture.extend({ interrupted: z.literal(true).optional() }), nothing),
  /** While the capture is not complete. */
  'captures.setup': call(z.object({ capture: z.string(), setup: Setup }), nothing),
  'captures.burner': call(z.object({ capture: z.string(), burnerId: z.string() }), nothing),
  /**
   * Marks this moment. `as-found` and `as-left` take the mean of the last seconds of live pressure and signal into their
   * text; `as-left` also becomes the setup's asLeftPressure.
   */
  'captures.mark': call(
    z.object({
      capture: z.string(),
      kind: z.enum(['note', 'sweep-start', 'sweep-end', 'as-found', 'as-left']),
      text: z.string().max(2000).default(''),
    }),
    nothing,
  ),
  /** A note beside a capture, at any time, complete or not. */
  'captures.note': call(
    z.object({ capture: z.string(), by: z.string().optional(), text: z.string().min(1).max(4000) }),
    nothing,
  ),

  /** Starts a light-off trial at the present pressure. Refused inside the purge wait or while one runs. */
  'trials.begin': call(z.object({ capture: z.string(), sparkDelayS: z.number().min(0).max(60) }), nothing),
  /**
   * Ends it; the purge wait begins. `pressure` (in the unit of `runningTrial`): what the manometer showed while the gas
   * flowed; it wins over the pressure at the start, where with the pilot valve still shut there is only fan pressure.
   */
  'trials.end': call(
    z.object({
      capture: z.string(),
      lit: z.boolean(),
      timeToProveS: z.number().min(0).optional(),
      pressure: z.number().optional(),
    }),
    nothing,
  ),
  /** Throws away a begun trial (wrong button, sequence did not start); the purge wait begins all the same. */
  'trials.cancel': call(ofCapture, nothing),

  /** Stored readings after number `after` (0: from the first), then each stored batch as it comes. */
  'readings.live': feed(z.object({ capture: z.string(), after: z.number().int().min(0) }), ReadingBatch),

  /** Off the UI thread; `setup` tries another setup than the capture's own without keeping it. */
  'analysis.run': call(z.object({ capture: z.string(), setup: Setup.optional() }), AnalysisDetail),
  'comparison.run': call(z.object({ before: z.string(), after: z.string() }), ComparisonDetail),

  'report.make': call(
    z.object({ capture: z.string(), before: z.string().optional(), format: z.enum(['html', 'pdf']) }),
    z.object({ name: z.string(), bytes }),
  ),
  /** A wide CSV (with companions) or a zip. Importing what is there already adds nothing. */
  'files.import': call(
    z.object({
      files: z
        .array(z.object({ name: z.string(), bytes }))
        .min(1)
        .max(50),
      burnerId: z.string().optional(),
    }),
    z.object({ captures: z.array(ImportedCapture), problems: z.array(fault) }),
  ),
  'files.export': call(
    z.object({ capture: z.string(), format: z.enum(['package', 'csv']) }),
    z.object({ name: z.string(), bytes }),
  ),

  /** Troubles of the store that the technician must see now (disk full), and their end; and how many windows follow this. */
  'store.live': feed(nothing, z.object({ fault: fault.optional(), windows: z.number() })),

  'practice.live': feed(nothing, PracticeState),
  'practice.act': call(
    z.object({
      scenario: z.string().optional(),
      turns: z.number().optional(),
      pilotValve: z.boolean().optional(),
      spark: z.boolean().optional(),
      fan: z.boolean().optional(),
    }),
    nothing,
  ),
} as const;

export type Api = typeof api;
