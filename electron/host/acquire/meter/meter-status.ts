import type { MeterState } from '../../../../shared/contract/api.ts';
import type { Flag, Role } from '../../../../shared/model/reading.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../../shared/model/network-port.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';
import { createBurstWatch } from './bursts.ts';
import { createGarbleWatch } from '../detect/serial-framing.ts';
import type { ReadLine } from '../protocol/protocol.ts';

/** What people see of a meter: its status, its newest numbers, its last lines. */
export interface MeterStatus {
  /** Looks at the bytes as they come, before their lines are published; true when that changed what people see. */
  hear(bytes: Uint8Array): boolean;
  publish(lines: readonly ReadLine[]): void;
  change(status: 'opening' | 'waiting' | 'lost', trouble?: Fault): void;
  isLost(): boolean;
  /** Takes note that nothing came for `quietMs`; true when that changed the status. */
  noteSilence(quietMs: number, silentMs: number): boolean;
  view(): MeterState;
}

const linesShown = 8;
// So many lines in a row without one number or overload: not a hiccup but a wrong baud rate or profile.
const unreadableAfter = 5;
/** As how many a line counts of which it is known that it is damaged, foreign or late: twice is no hiccup. Endless is enough once. */
const whenKnownWhy = 3;
const weightOf = (trouble: Fault | undefined): number => {
  if (!trouble) return 1;
  return trouble.code === 'meter-endless' ? unreadableAfter : whenKnownWhy;
};
const rateOverMs = 3000;
/** Formats whose bytes are no text. */
const binaryFormats: ReadonlySet<string> = new Set(['modbus-rtu']);

export function createMeterStatus(
  port: string,
  profile: Pick<Profile, 'name' | 'mode' | 'serial' | 'line'>,
  clock: Clock,
): MeterStatus {
  let status: MeterState['status'] = 'opening';
  let trouble: Fault | undefined;
  let lines = 0;
  let unreadable = 0;
  const recent: string[] = [];
  const latest = new Map<Role, { unit: string; value: number; flag?: Flag; atMs: number }>();
  /** What the meter itself refuses to give: no hiccup, so people are told at once. */
  const refused = new Map<Role, Fault>();
  const rate = createRate();
  const bursts = createBurstWatch();
  const garble = createGarbleWatch();

  return {
    hear(bytes) {
      if (binaryFormats.has(profile.line.format)) return false;
      const before = garble.isGarbled();
      garble.add(bytes);
      const now = garble.isGarbled();
      if (now && status === 'silent') status = 'waiting';
      return now !== before;
    },
    publish(published) {
      for (const line of published) {
        lines += 1;
        rate.add(line.atMs);
        recent.push(line.text);
        if (recent.length > linesShown) recent.shift();
        for (const { role, unit, value, flag } of line.readings) {
          latest.set(role, { unit, value, ...(flag && { flag }), atMs: line.atMs });
          if (line.trouble?.code === 'modbus-refused') refused.set(role, line.trouble);
          else refused.delete(role);
        }
        if (line.readings.length === 0) continue; // an empty line says nothing, for or against
        const read = line.readings.some(({ flag }) => flag === undefined || flag === 'overload');
        const roles = line.readings.filter(({ flag }) => flag === undefined).map(({ role }) => role);
        bursts.add(line.atMs, roles);
        unreadable = read ? 0 : unreadable + weightOf(line.trouble);
        if (status === 'lost' || status === 'opening') continue; // its last lines, after the port went
        const bad =
          unreadable >= unreadableAfter || (unreadable > 0 && status === 'unreadable') || refused.size === latest.size;
        const [refusal] = refused.values();
        status = bad ? 'unreadable' : 'live';
        const burst = bursts.seen();
        trouble = bad
          ? (line.trouble ?? fault('meter-unreadable', { port, sample: visible(line.text).slice(0, 60) }))
          : (refusal ??
            (burst && fault('meter-bursts', { port, lines: burst.lines, seconds: Math.ceil(burst.heldS * 10) / 10 })));
      }
    },
    change(next, why) {
      if (next !== 'lost') garble.clear();
      status = next;
      trouble = why;
    },
    isLost: () => status === 'lost',
    noteSilence(quietMs, silentMs) {
      if (quietMs < silentMs || (status !== 'live' && status !== 'waiting' && status !== 'unreadable')) return false;
      status = 'silent';
      const code = profile.mode === 'poll' ? 'meter-unanswering' : 'meter-silent';
      trouble = fault(code, { port, seconds: Math.round(quietMs / 1000) });
      return true;
    },
    view() {
      const nowMs = clock.monotonicMs();
      // Garbage seldom has line ends, so it is told from the bytes, and whatever number is read in it is chance.
      const isGarbled = garble.isGarbled() && (status === 'waiting' || status === 'live' || status === 'unreadable');
      const why = isGarbled ? garbled(port, profile.serial) : trouble;
      return {
        port,
        profile: profile.name,
        status: isGarbled ? 'unreadable' : status,
        ...(why && { fault: why }),
        linesPerSecond: rate.perSecond(nowMs),
        lines,
        latest: [...latest].map(([role, { atMs, ...newest }]) => ({ role, ...newest, ageMs: nowMs - atMs })),
        recentLines: recent.map(visible),
      };
    },
  };
}

/** Over a network the serial server has the speed, and listening would not find it. */
const garbled = (port: string, { baudRate }: Profile['serial']): Fault =>
  isNetworkPort(port) ? fault('network-garbled', { port }) : fault('meter-garbled', { port, baudRate });

/** Lines a second over the last seconds. */
function createRate() {
  // Counts by half seconds: a meter of a thousand lines a second costs no more than one of one.
  const bins: { atMs: number; count: number }[] = [];
  return {
    add(atMs: number) {
      const bin = Math.floor(atMs / 500) * 500;
      const last = bins.at(-1);
      if (last?.atMs === bin) last.count += 1;
      else bins.push({ atMs: bin, count: 1 });
      while (bins[0] && bins[0].atMs < atMs - 2 * rateOverMs) bins.shift();
    },
    perSecond(nowMs: number): number {
      const recent = bins.filter(({ atMs }) => atMs > nowMs - rateOverMs);
      const first = recent[0];
      if (!first) return 0;
      const total = recent.reduce((sum, { count }) => sum + count, 0);
      return total / Math.max(0.5, (nowMs - first.atMs) / 1000);
    },
  };
}

/** A raw line as people can see it: control characters as escapes. */
const visible = (text: string): string =>
  text
    .slice(0, 200)
    // oxlint-disable-next-line no-control-regex
    .replaceAll(/[\u0000-\u001f\u007f-\u009f\ufeff]/g, (char) => {
      const code = char.charCodeAt(0);
      return code > 0xff ? `\\u${code.toString(16)}` : `\\x${code.toString(16).padStart(2, '0')}`;
    });
