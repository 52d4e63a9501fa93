import { z } from 'zod';
import { BurnerFacts, Mark } from '../../model/capture.ts';
import { roles } from '../../model/reading.ts';
import { Setup } from '../../model/setup.ts';
import { call, feed } from '../define.ts';
import { captureId, nothing } from './shapes.ts';
import { StoredTrial } from './trials.ts';

export const Burner = BurnerFacts.extend({ id: z.string(), setup: Setup });
export type Burner = z.infer<typeof Burner>;

export const CaptureSummary = z.object({
  id: z.string(),
  /** ISO 8601 with offset. Of an imported file that does not say it (`startUnknown`), when it was imported: for the order of lists only. */
  startedAt: z.string(),
  startUnknown: z.literal(true).optional(),
  burnerId: z.string().optional(),
  burner: BurnerFacts.optional(),
  technician: z.string().optional(),
  status: z.enum(['recording', 'complete', 'interrupted']),
  /** When any of it came from the practice bench. */
  practice: z.literal(true).optional(),
  /** Recorded into this store; absent when it was imported, or nobody knows. Only then may its recording be resumed. */
  recordedHere: z.literal(true).optional(),
  lines: z.number().int(),
  readings: z.number().int(),
  /** Those that count: not the discarded ones, and each corrected one once. */
  trials: z.number().int(),
  durationS: z.number(),
  /** The unit in which each role's readings are given. */
  units: z.partialRecord(z.enum(roles), z.string()),
});
export type CaptureSummary = z.infer<typeof CaptureSummary>;

/** A meter failed during a trial, or its signal may be that of a spark as well: the meters do not tell how it ended. */
export const Undecided = z.enum([
  'manometer-failed',
  'signal-meter-failed',
  'signal-before-gas',
  'spark-like-flame',
  'weaker-than-before',
]);
export type Undecided = z.infer<typeof Undecided>;

/** The trial that is running now. Times are elapsed times, seconds; `pressure`, when it began, is in `unit`. */
export const RunningTrialView = z.object({
  startedS: z.number(),
  /** Absent: nobody knows when the spark comes. */
  sparkDelayS: z.number().optional(),
  pressure: z.number().optional(),
  unit: z.string().optional(),
  /** Gas that the meters showed has begun it, or the button. */
  knownBy: z.enum(['meters', 'hand']),
  /** First sign of gas by the manometer; absent until there was one. */
  gasS: z.number().optional(),
  /** Over by the meters, and why; it is in the record some seconds later. */
  over: z.enum(['proved', 'time-over', 'gas-shut']).optional(),
  /** Why the meters do not tell how it ended, so that the result is to be entered. */
  undecided: Undecided.optional(),
  /** Gas came on before the purge was complete: how much of it there was, as a sentence. */
  purgeShort: z.string().optional(),
});
export type RunningTrialView = z.infer<typeof RunningTrialView>;

export const CaptureView = CaptureSummary.extend({
  setup: Setup,
  meters: z.array(z.object({ port: z.string(), profile: z.string() })),
  marks: z.array(Mark),
  /** The whole record; `validTrials` gives those that count. */
  trials: z.array(StoredTrial),
  notes: z.array(z.object({ at: z.string(), by: z.string().optional(), text: z.string() })),
  runningTrial: RunningTrialView.optional(),
  /** The regulator was turned since this recording began, as far as the meters and the marks show; absent where it was not, or nobody knows. */
  regulatorTurned: z.literal(true).optional(),
  /** Seconds from gas to spark as announced for the next trial, for that one only. */
  announcedSparkS: z.number().optional(),
  /** Elapsed time, seconds, before which no further trial may start: the purge wait. */
  purgeUntilS: z.number().optional(),
});
export type CaptureView = z.infer<typeof CaptureView>;

const column = z.custom<Float64Array>((value) => value instanceof Float64Array, 'must be a Float64Array');
const codes = z.custom<Uint8Array>((value) => value instanceof Uint8Array);

/** Stored readings as columns of equal length: `role[i]` indexes `roles`; `flag[i]` is 0 or 1 + index in `flags`. */
export const ReadingBatch = z.object({
  /** Number of the last reading in this batch; the next batch begins after it. */
  upTo: z.number().int(),
  role: codes,
  flag: codes,
  /** Seconds. */
  elapsedS: column,
  /** In the unit of the capture for that role (`CaptureSummary.units`); NaN when flagged. */
  value: column,
});
export type ReadingBatch = z.infer<typeof ReadingBatch>;

/** Burners, captures and their readings. */
export const captureCalls = {
  'burners.list': call(nothing, z.array(Burner)),
  /** A new burner when there is no `id`. Gives the id. */
  'burners.save': call(Burner.partial({ id: true }), z.object({ id: z.string() })),

  /** Every capture, newest first. For programs: a page reads only what it shows, by `captures.page`. */
  'captures.list': call(nothing, z.array(CaptureSummary)),
  /**
   * `count` captures from place `from` (0: the newest) of those in which every word of `search` begins a word: of the burner, as it was at
   * the visit or as it is known now, the technician, the notes, the date or the id. `total`: how many there are. Empty: all captures.
   */
  'captures.page': call(
    z.object({ search: z.string().max(500), from: z.number().int().min(0), count: z.number().int().min(1).max(200) }),
    z.object({ total: z.number().int(), captures: z.array(CaptureSummary) }),
  ),
  /**
   * The captures that are not complete, those being recorded first, at most a hundred, and a number that grows whenever the list changes: another window or program may
   * have changed it. The counts of readings are those of the moment at which it changed.
   */
  'captures.changes': feed(nothing, z.object({ version: z.number().int(), unfinished: z.array(CaptureSummary) })),
  'captures.get': call(captureId, CaptureView),
  /** The capture as it changes: marks, trials, setup, status, counts. First item at once. */
  'captures.live': feed(captureId, CaptureView),
  'captures.start': call(
    z.object({ burnerId: z.string().optional(), technician: z.string().max(200).optional(), setup: Setup }),
    captureId,
  ),
  /** Resumes recording an interrupted capture; the pause shows as a gap. */
  'captures.continue': call(captureId, nothing),
  /**
   * Ends a recording, or completes an interrupted capture with everything it had. A caller that takes it for interrupted says so with
   * `interrupted`: then it is refused with `capture-goes-on` when another desktop window has resumed the recording.
   */
  'captures.finish': call(captureId.extend({ interrupted: z.literal(true).optional() }), nothing),
  /** While the capture is not complete. */
  'captures.setup': call(z.object({ capture: z.string(), setup: Setup }), nothing),
  'captures.burner': call(z.object({ capture: z.string(), burnerId: z.string() }), nothing),
  /**
   * Marks this moment. `as-found` and `as-left` put the mean of the last seconds of live pressure and signal into their
   * text; `as-left` also becomes the setup's asLeftPressure. Both are refused unless gas flows and a flame burns steadily, and
   * `as-found` also once the regulator was turned; `confirmed` says that the technician has seen to what the meters cannot tell.
   */
  'captures.mark': call(
    z.object({
      capture: z.string(),
      kind: z.enum(['note', 'sweep-start', 'sweep-end', 'as-found', 'as-left']),
      text: z.string().max(2000).default(''),
      confirmed: z.literal(true).optional(),
    }),
    nothing,
  ),
  /**
   * Discards the sweep that began at `fromS`, at any time: adds a `sweep-void` mark with the reason. It ends the sweep if that is running.
   * Every analysis leaves the sweep out and says so. Fails with `sweep-unknown` or `sweep-void`.
   */
  'captures.voidSweep': call(
    z.object({ capture: z.string(), fromS: z.number(), reason: z.string().trim().min(1).max(2000) }),
    nothing,
  ),
  /** A note beside a capture, at any time, complete or not. */
  'captures.note': call(
    z.object({ capture: z.string(), by: z.string().optional(), text: z.string().min(1).max(4000) }),
    nothing,
  ),

  /** Stored readings after number `after` (0: from the first), then each stored batch as it comes. */
  'readings.live': feed(z.object({ capture: z.string(), after: z.number().int().min(0) }), ReadingBatch),
} as const;
