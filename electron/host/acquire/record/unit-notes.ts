import type { Role } from '../../../../shared/model/reading.ts';
import type { Meter, MeterLine } from '../meter/meter.ts';
import type { Recorder } from './recorder.ts';

/** The last note about one channel in this recording. */
interface LastNote {
  /** The unit that was converted; undefined for the channel's own. */
  unit: string | undefined;
  count: number;
  atMs: number;
}

// A meter that hovers between two ranges switches with every line. After this many notes there is at most one a minute.
const unlimitedNotes = 10;
const minIntervalMs = 60_000;

/**
 * Notes on the time line of a recording when a meter begins to print another unit than its channel's, so that its numbers are
 * converted, and when it stops: once for each switch, and once at the beginning of a recording.
 */
export function createUnitNotes({ target, mark }: Pick<Recorder, 'target' | 'mark'>): (line: MeterLine) => void {
  let recording: string | undefined;
  let lastNotes = new WeakMap<Meter, Map<Role, LastNote>>();
  return ({ meter, atMs, readings }) => {
    const recordingTarget = target();
    if (recordingTarget?.id !== recording) {
      recording = recordingTarget?.id;
      lastNotes = new WeakMap();
    }
    if (!recordingTarget) return;
    const channels = lastNotes.get(meter) ?? new Map<Role, LastNote>();
    lastNotes.set(meter, channels);
    for (const { role, unit, flag, convertedFrom } of readings) {
      const { unit: last, count, atMs: lastMs } = channels.get(role) ?? { unit: undefined, count: 0, atMs: 0 };
      if (flag || last === convertedFrom) continue;
      if (count >= unlimitedNotes && atMs - lastMs < minIntervalMs) continue;
      channels.set(role, { unit: convertedFrom, count: count + 1, atMs });
      const text =
        convertedFrom === undefined
          ? `${meter.port} no longer prints ${last}; its numbers are read as ${unit}`
          : `${meter.port} now prints ${convertedFrom}, converted to ${unit}`;
      mark({ elapsedS: Math.max(0, (atMs - recordingTarget.zeroMs) / 1000), kind: 'note', text });
    }
  };
}
