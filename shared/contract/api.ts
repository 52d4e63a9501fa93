import { burnerCalls } from './api/burner.ts';
import { captureCalls } from './api/captures.ts';
import { meterCalls } from './api/meters.ts';
import { practiceCalls } from './api/practice.ts';
import { programCalls } from './api/program.ts';
import { resultCalls } from './api/results.ts';
import { trialCalls } from './api/trials.ts';

export type { BurnerView } from './api/burner.ts';
export type { Burner, CaptureSummary, CaptureView, ReadingBatch, Undecided } from './api/captures.ts';
export type { MeterState, PortDetection, PortInfo } from './api/meters.ts';
export type { PracticeState } from './api/practice.ts';
export type { ImportedCapture } from './api/results.ts';
export type { StoredTrial } from './api/trials.ts';

/** Every call and feed between page and host, by name; `define.ts` says what a call and a feed are. */
export const api = {
  ...programCalls,
  ...meterCalls,
  ...burnerCalls,
  ...captureCalls,
  ...trialCalls,
  ...resultCalls,
  ...practiceCalls,
} as const;

export type Api = typeof api;
