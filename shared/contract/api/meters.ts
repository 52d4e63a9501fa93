import { z } from 'zod';
import { Profile } from '../../model/profile.ts';
import { flags, roles } from '../../model/reading.ts';
import { call, feed } from '../define.ts';
import { fault, nothing } from './shapes.ts';

export const PortInfo = z.object({
  path: z.string(),
  label: z.string(),
  kind: z.enum(['serial', 'practice']),
  /** Maker and name of the adapter, and its serial number, as far as the operating system gives them. */
  adapter: z.string().optional(),
  serialNumber: z.string().optional(),
});
export type PortInfo = z.infer<typeof PortInfo>;

/**
 * What is detected on one port by listening only; nothing is written to it.
 * `listening` until that is known; `connected` (a meter is connected there: its state is given and the port is not opened again),
 * `silent`, `lines` (lines of text), `unreadable` (bytes, but no lines of text), `unavailable` (cannot be opened, or listening was
 * cancelled).
 */
export const PortDetection = z.object({
  path: z.string(),
  status: z.enum(['listening', 'connected', 'silent', 'lines', 'unreadable', 'unavailable']),
  /** The same as a sentence for people. */
  says: z.string(),
  /** Speed and frame; absent over a network, where they are set on the serial server. */
  serial: Profile.shape.serial.optional(),
  /** The shape of a line, e.g. "one number a line". */
  line: z.string().optional(),
  /** A line as it came. */
  sample: z.string().optional(),
  /** Profiles that read these lines at this speed, best first; not `kept`: derived for this port and not saved yet. */
  fits: z.array(z.object({ profile: Profile, kept: z.boolean() })).optional(),
});
export type PortDetection = z.infer<typeof PortDetection>;

/** The latest reading of one channel, for the large numerals. `value` is in `unit`, NaN when flagged. */
export const LatestReading = z.object({
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
  /** Name of its profile. */
  profile: z.string(),
  status: z.enum(['opening', 'waiting', 'live', 'silent', 'unreadable', 'lost']),
  fault: fault.optional(),
  linesPerSecond: z.number(),
  lines: z.number().int(),
  latest: z.array(LatestReading),
  /** The last few raw lines, newest last, control characters shown as escapes. */
  recentLines: z.array(z.string()),
});
export type MeterState = z.infer<typeof MeterState>;

/** Ports, meters on them, and the profiles by which these are read. */
export const meterCalls = {
  'ports.list': call(nothing, z.object({ ports: z.array(PortInfo), fault: fault.optional() })),
  /**
   * Listens to ports, all at once, and writes nothing to any. Gives the detection on each, in the order of the input, as it changes;
   * ends when all are done, at most half a minute later. Stopping the feed closes the ports.
   */
  'ports.listen': feed(z.object({ ports: z.array(z.string().min(1).max(300)).min(1).max(32) }), z.array(PortDetection)),

  /** Whether meters on the network (`tcp://host:port`) may be used. Off until the user switches it on. */
  'network.get': call(nothing, z.object({ allowed: z.boolean() })),
  /** Saved with the store. Switching it off disconnects the meters on the network. */
  'network.allow': call(z.object({ allowed: z.boolean() }), nothing),

  'profiles.list': call(nothing, z.array(z.object({ builtIn: z.boolean(), profile: Profile }))),
  /** Saves a user's own profile; one of the same name is replaced. */
  'profiles.save': call(z.object({ profile: Profile }), nothing),
  /** Removes a user's own profile. A meter that is connected with it stays connected. */
  'profiles.remove': call(z.object({ name: z.string() }), nothing),

  /** Opens the port at once and keeps trying; its lines show in `meters.live`. */
  'meters.connect': call(z.object({ port: z.string().min(1), profile: z.string() }), nothing),
  'meters.disconnect': call(z.object({ port: z.string() }), nothing),
  /** All connected meters, up to ten times a second while anything changes. */
  'meters.live': feed(nothing, z.array(MeterState)),
} as const;
