import type { MeterState } from '../../../../shared/contract/api.ts';
import type { Flag, Role } from '../../../../shared/model/reading.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../../shared/model/ports/network-port.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';
import { createGarbleDetector } from '../detect/serial-framing.ts';
import type { DecodedLine } from '../protocol/protocol.ts';
import { createBurstDetector } from './bursts.ts';

/** What people see of a meter: its status, its latest readings, its last lines. */
export interface MeterStatus {
  /** Checks the bytes for garbage as they come, before their lines are published; true when that changed the view. */
  noteBytes(bytes: Uint8Array): boolean;
  publish(lines: readonly DecodedLine[]): void;
  setStatus(status: 'opening' | 'waiting' | 'lost', cause?: Fault): void;
  isLost(): boolean;
  /** Nothing came for `quietMs`; true when that changed the status, from `silentMs` on. */
  noteSilence(quietMs: number, silentMs: number): boolean;
  view(): MeterState;
}

const shownLines = 8;
// This many lines in a row without one number or overload are not a glitch but a wrong baud rate or profile.
const unreadableAfter = 5;
/** A line that is known to be damaged, foreign or late counts for this many: two of them are not a glitch. One endless line is enough. */
const knownCauseWeight = 3;
const weightOf = (cause: Fault | undefined): number => {
  if (!cause) return 1;
  return cause.code === 'meter-endless' ? unreadableAfter : knownCauseWeight;
};
const rateOverMs = 3000;
/** Formats whose bytes are not text. */
const binaryFormats: ReadonlySet<string> = new Set(['modbus-rtu']);

export function createMeterStatus(
  port: string,
  profile: Pick<Profile, 'name' | 'mode' | 'serial' | 'line'>,
  clock: Clock,
): MeterStatus {
  let status: MeterState['status'] = 'opening';
  let currentFault: Fault | undefined;
  let lines = 0;
  let unreadable = 0;
  const recent: string[] = [];
  const latest = new Map<Role, { unit: string; value: number; flag?: Flag; atMs: number }>();
  /** Channels that the meter itself refuses: not a glitch, so it is reported at once. */
  const refused = new Map<Role, Fault>();
  const rate = createRate();
  const bursts = createBurstDetector();
  const garble = createGarbleDetector();

  return {
    noteBytes(bytes) {
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
        if (recent.length > shownLines) recent.shift();
        for (const { role, unit, value, flag } of line.readings) {
          latest.set(role, { unit, value, ...(flag && { flag }), atMs: line.atMs });
          if (line.fault?.code === 'modbus-refused') refused.set(role, line.fault);
          else refused.delete(role);
        }
        if (line.readings.length === 0) continue; // an empty line proves nothing
        const isRead = line.readings.some(({ flag }) => flag === undefined || flag === 'overload');
        const roles = line.readings.filter(({ flag }) => flag === undefined).map(({ role }) => role);
        bursts.add(line.atMs, roles);
        unreadable = isRead ? 0 : unreadable + weightOf(line.fault);
        if (status === 'lost' || status === 'opening') continue; // its last lines, after the port went
        const isUnreadable =
          unreadable >= unreadableAfter || (unreadable > 0 && status === 'unreadable') || refused.size === latest.size;
        const [refusal] = refused.values();
        status = isUnreadable ? 'unreadable' : 'live';
        const burst = bursts.current();
        currentFault = isUnreadable
          ? (line.fault ?? fault('meter-unreadable', { port, sample: escapeControls(line.text).slice(0, 60) }))
          : (refusal ??
            (burst && fault('meter-bursts', { port, lines: burst.lines, seconds: Math.ceil(burst.delayS * 10) / 10 })));
      }
    },
    setStatus(next, cause) {
      if (next !== 'lost') garble.clear();
      status = next;
      currentFault = cause;
    },
    isLost: () => status === 'lost',
    noteSilence(quietMs, silentMs) {
      if (quietMs < silentMs || (status !== 'live' && status !== 'waiting' && status !== 'unreadable')) return false;
      status = 'silent';
      const code = profile.mode === 'poll' ? 'meter-unanswering' : 'meter-silent';
      currentFault = fault(code, { port, seconds: Math.round(quietMs / 1000) });
      return true;
    },
    view() {
      const nowMs = clock.monotonicMs();
      // Garbage seldom has line endings, so it is detected in the bytes, and any number read in it is chance.
      const isGarbled = garble.isGarbled() && (status === 'waiting' || status === 'live' || status === 'unreadable');
      const shownFault = isGarbled ? garbledFault(port, profile.serial) : currentFault;
      return {
        port,
        profile: profile.name,
        status: isGarbled ? 'unreadable' : status,
        ...(shownFault && { fault: shownFault }),
        linesPerSecond: rate.perSecond(nowMs),
        lines,
        latest: [...latest].map(([role, { atMs, ...newest }]) => ({ role, ...newest, ageMs: nowMs - atMs })),
        recentLines: recent.map(escapeControls),
      };
    },
  };
}

/** Over a network the speed is set on the serial server, and listening would not find it. */
const garbledFault = (port: string, { baudRate }: Profile['serial']): Fault =>
  isNetworkPort(port) ? fault('network-garbled', { port }) : fault('meter-garbled', { port, baudRate });

/** Lines per second over the last seconds. */
function createRate() {
  // Counts by half seconds: a meter with a thousand lines per second costs no more than one with a single line.
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

/** The beginning of a raw line as people can see it: control characters as escapes. */
const escapeControls = (text: string): string =>
  text
    .slice(0, 200)
    // oxlint-disable-next-line no-control-regex
    .replaceAll(/[\u0000-\u001f\u007f-\u009f\ufeff]/g, (char) => {
      const code = char.charCodeAt(0);
      return code > 0xff ? `\\u${code.toString(16)}` : `\\x${code.toString(16).padStart(2, '0')}`;
    });
