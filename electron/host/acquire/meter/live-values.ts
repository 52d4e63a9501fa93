import type { Role } from '../../../../shared/model/reading.ts';
import type { MeterLine } from './meter.ts';

/** The mean of one channel over the last moments, in `unit`. */
export interface LiveMean {
  value: number;
  unit: string;
  /** How many readings it is the mean of. */
  count: number;
}

/** The readings of the last seconds, by channel. */
export interface LiveValues {
  add(lines: readonly MeterLine[]): void;
  /** Forgets a meter that was disconnected. */
  forget(port: string): void;
  /**
   * Mean of `role` over the last `overMs` before `nowMs` (monotonic); the newest reading alone when a slow meter gave none in that
   * time. Undefined when the newest is too old or flagged: then there is no live value.
   */
  mean(role: Role, overMs: number, nowMs: number): LiveMean | undefined;
}

const retentionMs = 10_000;
// The slowest meters send every two seconds; what is older is not live.
const staleAfterMs = 3000;

interface Point {
  port: string;
  atMs: number;
  value: number;
  unit: string;
}

/** Drops old points, many at once: dropping one by one would move all the others of a fast meter each time. */
function dropOld(list: Point[]): void {
  const newest = list.at(-1)?.atMs ?? 0;
  if (!list[0] || list[0].atMs >= newest - 2 * retentionMs) return;
  list.splice(
    0,
    list.findIndex(({ atMs }) => atMs >= newest - retentionMs),
  );
}

export function createLiveValues(): LiveValues {
  const points = new Map<Role, Point[]>();
  return {
    add(lines) {
      for (const { meter, atMs, readings } of lines) {
        for (const { role, value, unit } of readings) {
          let list = points.get(role);
          if (!list) points.set(role, (list = []));
          list.push({ port: meter.port, atMs, value, unit });
        }
      }
      for (const list of points.values()) dropOld(list);
    },
    forget(port) {
      for (const [role, list] of points)
        points.set(
          role,
          list.filter((point) => point.port !== port),
        );
    },
    mean(role, overMs, nowMs) {
      const list = points.get(role) ?? [];
      const newest = list.at(-1);
      if (!newest || nowMs - newest.atMs > staleAfterMs || !Number.isFinite(newest.value)) return undefined;
      const recent = list.filter((point) => nowMs - point.atMs <= overMs && Number.isFinite(point.value));
      const used = recent.length > 0 ? recent : [newest];
      const sum = used.reduce((total, point) => total + point.value, 0);
      return { value: sum / used.length, unit: newest.unit, count: used.length };
    },
  };
}
