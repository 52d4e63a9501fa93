import { z } from 'zod';
import type { Reading } from './reading.ts';
import { Setup } from './setup.ts';
import { PressureUnit } from './units.ts';

/**
 * A moment of the capture.
 * The `-start` / `-end` kinds bracket what the technician was doing: the analysis uses readings inside sweeps when a
 * capture has any such mark, and all readings otherwise; readings inside a trial never count as sweep.
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
] as const;
export type MarkKind = (typeof markKinds)[number];
export const Mark = z.object({ elapsedS: z.number(), kind: z.enum(markKinds), text: z.string() });
export type Mark = z.infer<typeof Mark>;

/** One light-off trial: yes or no at one pressure, with the spark held back by `sparkDelayS` after the gas. */
export const Trial = z.object({
  pressure: z.number(),
  unit: PressureUnit,
  sparkDelayS: z.number().min(0),
  lit: z.boolean(),
  /** Seconds from the opening of the pilot valve until the flame was proved, the spark delay included. */
  timeToProveS: z.number().min(0).optional(),
  /** When it was made, seconds from the start of the capture, if known. */
  elapsedS: z.number().optional(),
});
export type Trial = z.infer<typeof Trial>;

/** Which burner, for people. All free text; `name` is what lists show. */
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

/** A meter as it was used in a capture. */
export const MeterFacts = z.object({
  port: z.string(),
  profile: z.string(),
  description: z.string().optional(),
  /** The profile as it was when its lines were read. History: handed on as it is, never held against today's rules. */
  reads: z.record(z.string(), z.unknown()).optional(),
});
export type MeterFacts = z.infer<typeof MeterFacts>;

/** A raw line as it came from a port, without its line end. `raw` holds bytes as latin-1 when `encoding` says so. */
export interface RawLine {
  seq: number;
  elapsedS: number;
  port: string;
  raw: string;
  encoding: 'utf8' | 'latin1';
}

/** Everything that one capture holds, whatever it was read from: a store, a data package or a wide CSV. */
export interface Capture {
  /** Unique and stable: importing the same capture twice finds it again. */
  id: string;
  /** Wall time of elapsed 0, ISO 8601 with offset; absent when the file does not say. */
  startedAt?: string;
  technician?: string;
  /** True when it was cut short and has not been completed since. */
  interrupted?: true;
  burner?: BurnerFacts;
  meters: MeterFacts[];
  setup: Setup;
  readings: Reading[];
  lines: RawLine[];
  marks: Mark[];
  trials: Trial[];
  notes: { at: string; by?: string; text: string }[];
}
