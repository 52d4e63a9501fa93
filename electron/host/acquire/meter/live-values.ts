import type { Role } from '../../../../shared/model/reading.ts';
import type { MeterLine } from './meter.ts';

/** The mean of one channel over the last moments. */
export interface LiveMean {
  value: number;
  unit: string;
  /** How many readings it is the mean of. */
  count: number;
}

export interface LiveValues {
  add(lines: readonly MeterLine[]): void;
  /** Forgets a meter that was disconnected. */
  forget(port: string): void;
  /**
   * Mean of `role` over the last `overMs`; the newest reading alone when a slow meter gave none in that time.
   * Undefined when the newest is too old, or said overload or nothing readable: then there is no live value.
   */
  mean(role: Role, overMs: number, nowMs: number): LiveMean | undefined;
}

const keptMs = 10_000;
// The slowest meters send every two seconds; what is older is not live.
const newestMs = 3000;

interface Point {
  port: string;
  atMs: number;
  value: number;
  unit: string;
}

/** Drops what is too old, many at once: one by one, each would move all the others of a fast meter. */
function dropOld(list: Point[]): void {
  const newest = list.at(-1)?.atMs ?? 0;
  if (!list[0] || list[0].atMs >= newest - 2 * keptMs) return;
  list.splice(
    0,
    list.findIndex(({ atMs }) => atMs >= newest - keptMs),
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
      if (!newest || nowMs - newest.atMs > newestMs || !Number.isFinite(newest.value)) return undefined;
      const window = list.filter((point) => nowMs - point.atMs <= overMs && Number.isFinite(point.value));
      const used = window.length > 0 ? window : [newest];
      const sum = used.reduce((total, point) => total + point.value, 0);
      return { value: sum / used.length, unit: newest.unit, count: used.length };
    },
  };
}
