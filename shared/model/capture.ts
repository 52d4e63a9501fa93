import { z } from 'zod';
import type { Reading } from './reading.ts';
import { Setup } from './setup.ts';
import { PressureUnit } from './units.ts';

/**
 * A marked moment of the capture.
 * The `-start` / `-end` kinds enclose a sweep or a trial: when a capture has any such mark, the analysis uses only the
 * readings inside sweeps, otherwise all of them; readings inside a trial never count as part of a sweep.
 * `sweep-void` discards a sweep, its text is the reason: see `sweepsOf`.
 */
export const markKinds = [
  'note',
  'sweep-start',
  'sweep-end',
  'trial-start',
  'trial-end',
  'as-found',
  'as-left',
  'gap',
  'flame-lost',
  'gas-unlit',
  'not-shut',
  'gas-shut',
  'air-confirmed',
  'air-stopped',
  'sweep-void',
] as const;
export type MarkKind = (typeof markKinds)[number];
export const Mark = z.object({ elapsedS: z.number(), kind: z.enum(markKinds), text: z.string() });
export type Mark = z.infer<typeof Mark>;

const seconds = z.number().min(0);
const words = z.string().min(1).max(2000);

/** From what a trial is known: the meters showed it, a person entered it, or a person corrected what was there. */
export const trialSources = ['meters', 'hand', 'corrected'] as const;
export const trialStatuses = ['valid', 'void'] as const;
/**
 * What made sure of the purge before a trial: the burner's control ran it, a person ran it by hand, the fan pressure showed
 * moving air, or a person confirmed that the fan was running.
 */
export const purgeSources = ['control', 'hand', 'air', 'confirmed'] as const;

/**
 * One entry of the record of light-off trials: a trial at one pressure, lit or not. Entries are only ever added. One that corrects or
 * discards an earlier one names it; `validTrials` gives those that count.
 */
export const Trial = z.object({
  /** Gauge pressure while the gas flowed. */
  pressure: z.number(),
  unit: PressureUnit,
  /** Seconds from the gas to the spark; absent: nobody knows when the spark came. */
  sparkDelayS: seconds.optional(),
  lit: z.boolean(),
  /** Seconds from the opening of the pilot valve until the flame was proved, the spark delay included. */
  timeToProveS: seconds.optional(),
  /** Seconds from the spark until the flame was proved. */
  timeToProveFromSparkS: seconds.optional(),
  /** When it began, seconds from the start of the capture, if known. */
  elapsedS: z.number().optional(),
  knownBy: z.enum(trialSources).optional(),
  /** Absent: valid. A void entry discards the trial that it corrects. */
  status: z.enum(trialStatuses).optional(),
  /** The earlier entry that this one replaces, by its place in the record: 1 is the first entry of the capture or the file. */
  corrects: z.number().int().min(1).optional(),
  /** Why it was corrected, discarded or added afterwards. */
  reason: words.optional(),
  /** Seconds of purge before it. */
  purgeS: seconds.optional(),
  purgeBy: z.enum(purgeSources).optional(),
  /** Pressure before the gas came on and after it was shut, in `unit`. */
  pressureBefore: z.number().optional(),
  pressureAfter: z.number().optional(),
  note: words.optional(),
});
export type Trial = z.infer<typeof Trial>;

/** Identifies the burner to people. All free text; lists show `name`. */
export const BurnerFacts = z.object({
  site: z.string().max(200),
  name: z.string().min(1).max(200),
  burnerModel: z.string().max(200).optional(),
  serialNumber: z.string().max(200).optional(),
  pilotModel: z.string().max(200).optional(),
  flameDetector: z.string().max(200).optional(),
  gas: z.string().max(200).optional(),
});
export type BurnerFacts = z.infer<typeof BurnerFacts>;

/** A meter as used in a capture. */
export const MeterFacts = z.object({
  port: z.string(),
  profile: z.string(),
  description: z.string().optional(),
  /** The profile its lines were decoded with. A record: passed on unchanged, never validated against today's schema. */
  reads: z.record(z.string(), z.unknown()).optional(),
});
export type MeterFacts = z.infer<typeof MeterFacts>;

/** A raw line as received from a port, without its line ending. `raw` holds the bytes as Latin-1 when `encoding` says so. */
export interface RawLine {
  seq: number;
  elapsedS: number;
  port: string;
  raw: string;
  encoding: 'utf8' | 'latin1';
}

/** Everything in one capture, whether read from a store, a data package or a wide CSV. */
export interface Capture {
  /** Unique and stable, so that importing the same capture twice adds nothing. */
  id: string;
  /** Wall time of elapsed 0, ISO 8601 with offset; absent when the file has none. */
  startedAt?: string;
  technician?: string;
  /** Set when the recording was cut short and has not been completed since. */
  interrupted?: true;
  /** True when any of it came from the invented burner of the practice bench. Once set, nothing takes it away. */
  practice?: true;
  burner?: BurnerFacts;
  meters: MeterFacts[];
  setup: Setup;
  readings: Reading[];
  lines: RawLine[];
  marks: Mark[];
  trials: Trial[];
  notes: { at: string; by?: string; text: string }[];
}
