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

/** One light-off trial at one pressure: lit or not, with the spark `sparkDelayS` after the gas. */
export const Trial = z.object({
  pressure: z.number(),
  unit: PressureUnit,
  sparkDelayS: z.number().min(0),
  lit: z.boolean(),
  /** Seconds from the opening of the pilot valve until the flame was proved, the spark delay included. */
  timeToProveS: z.number().min(0).optional(),
  /** When it began, seconds from the start of the capture, if known. */
  elapsedS: z.number().optional(),
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
