import type { Role } from '../../../../shared/model/reading.ts';
import type { Meter, MeterLine } from '../meter/meter.ts';
import type { Recorder } from './recorder.ts';

/** What has been noted of one channel in this recording. */
interface Noted {
  /** The unit that was converted from; undefined for the channel's own. */
  unit: string | undefined;
  count: number;
  atMs: number;
}

// A meter that hovers between two ranges switches with every line. After so many notes there is one a minute at most.
const notedAtOnce = 10;
const thenEveryMs = 60_000;

/**
 * Notes on the time line of a recording when a meter begins to print another unit than its channel's, whose numbers are
 * converted, and when it stops: once for each switch, and once at the beginning of a recording that finds it so.
 */
export function createUnitNotes({ target, mark }: Pick<Recorder, 'target' | 'mark'>): (line: MeterLine) => void {
  let recording: string | undefined;
  let noted = new WeakMap<Meter, Map<Role, Noted>>();
  return ({ meter, atMs, readings }) => {
    const into = target();
    if (into?.id !== recording) {
      recording = into?.id;
      noted = new WeakMap();
    }
    if (!into) return;
    const channels = noted.get(meter) ?? new Map<Role, Noted>();
    noted.set(meter, channels);
    for (const { role, unit, flag, convertedFrom } of readings) {
      const { unit: last, count, atMs: lastMs } = channels.get(role) ?? { unit: undefined, count: 0, atMs: 0 };
      if (flag || last === convertedFrom) continue;
      if (count >= notedAtOnce && atMs - lastMs < thenEveryMs) continue;
      channels.set(role, { unit: convertedFrom, count: count + 1, atMs });
      const text =
        convertedFrom === undefined
          ? `${meter.port} prints ${last} no more, taken as ${unit}`
          : `${meter.port} now prints ${convertedFrom}, converted to ${unit}`;
      mark({ elapsedS: Math.max(0, (atMs - into.zeroMs) / 1000), kind: 'note', text });
    }
  };
}
