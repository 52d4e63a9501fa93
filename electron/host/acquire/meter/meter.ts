import type { MeterState } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';
import { pause } from '../../topic.ts';
import type { OpenedPort, OpenPort } from '../ports/port.ts';
import { createLineProtocol } from '../protocol/line-protocol.ts';
import { createModbusProtocol } from '../protocol/modbus-protocol.ts';
import type { ReceivedLine } from '../protocol/protocol.ts';
import type { Timing } from '../protocol/timing.ts';
import type { ByteIntake, ByteSource } from './byte-intake.ts';
import { createFloodDetector } from './flood.ts';
import type { MeterStatus } from './meter-status.ts';
import { createMeterStatus } from './meter-status.ts';

/** A line of a meter, time-stamped and decoded, on its way to the store. */
export interface MeterLine extends ReceivedLine {
  meter: Meter;
}

export interface MeterContext {
  clock: Clock;
  timing: Timing;
  openPort: OpenPort;
  intake: ByteIntake;
  onLine(line: MeterLine): void;
  /** The readings broke off or resumed: a sentence for the time line. */
  onGap(text: string): void;
  /** The state changed (not called for each line). */
  onChange(): void;
}

export interface Meter {
  port: string;
  profile: Profile;
  /** Shows lines in the state; called once they are processed (stored, while recording). */
  publish(lines: readonly MeterLine[]): void;
  view(): MeterState;
  /** The recording ends: passes on everything that has come, the bytes of an unfinished line too. */
  flush(): void;
  /** Closes the port; resolves when its last line has been passed on. */
  stop(): Promise<void>;
}

/**
 * Keeps the meter on `port` connected: opens the port, reads its lines, and opens it again whenever it went away. One that floods the
 * recording with lines stays closed.
 * Writes nothing but the profile's own poll, and that only while the port is open.
 */
export function startMeter(port: string, profile: Profile, context: MeterContext): Meter {
  const { clock, timing } = context;
  const status = createMeterStatus(port, profile, clock);
  const stopping = new AbortController();

  let flush = () => {};
  const meter: Meter = {
    port,
    profile,
    publish: (lines) => status.publish(lines),
    view: () => status.view(),
    flush: () => flush(),
    async stop() {
      stopping.abort();
      await running;
    },
  };

  const run = async () => {
    let lostAtMs: number | undefined;
    while (!stopping.signal.aborted) {
      const result = await runConnection(port, profile, context, status, stopping.signal, {
        onLine: (line) => context.onLine({ meter, ...line }),
        onOpen() {
          if (lostAtMs !== undefined) context.onGap(`${port} is back after ${seconds(clock.monotonicMs() - lostAtMs)}`);
          lostAtMs = undefined;
        },
        onFlush: (next) => (flush = next),
      });
      flush = () => {};
      if (stopping.signal.aborted) return;
      if (result === 'flooding') return context.onGap(`${port} was closed: it sent too many lines`);
      if (result === 'lost') {
        lostAtMs = clock.monotonicMs();
        context.onGap(`${port} went away`);
      }
      await pause(timing.retryMs, stopping.signal);
    }
  };
  const running = run();
  return meter;
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

interface ConnectionEvents {
  onLine(line: ReceivedLine): void;
  onOpen(): void;
  /** Gives the function that flushes this connection's unfinished line. */
  onFlush(flush: () => void): void;
}

/** One connection from opening to its end; 'refused' when it could not be opened, 'flooding' when it was closed for good. */
async function runConnection(
  path: string,
  profile: Profile,
  context: MeterContext,
  status: MeterStatus,
  stopping: AbortSignal,
  { onLine, onOpen, onFlush }: ConnectionEvents,
): Promise<'lost' | 'refused' | 'stopped' | 'flooding'> {
  const { clock, timing, intake } = context;
  const setStatus = (next: 'opening' | 'waiting' | 'lost', cause?: Fault) => {
    status.setStatus(next, cause);
    context.onChange();
  };
  if (!status.isLost()) setStatus('opening');

  let opened: OpenedPort | undefined;
  // A response must be read before the next request is sent: it cannot wait in a backlog, and such a meter sends only what it is asked for.
  const isModbus = profile.line.format === 'modbus-rtu';
  const protocol = isModbus
    ? createModbusProtocol({ port: path, profile, clock, responseTimeoutMs: timing.responseTimeoutMs, onLine })
    : createLineProtocol({ port: path, profile, clock, onLine }, () => opened?.startsOnNewLine !== false);

  const source: ByteSource = { port: path, push: (bytes, atMs) => protocol.push(bytes, atMs) };
  onFlush(() => {
    intake.drain(source);
    protocol.flush();
  });
  const lost = new AbortController();
  let lostFault: Fault | undefined;
  const floodDetector = createFloodDetector();
  let isFlooding = false;
  const outcome = await context.openPort({
    path,
    serial: profile.serial,
    onBytes: (bytes) => {
      if (isFlooding) return;
      if (status.noteBytes(bytes)) context.onChange();
      const atMs = clock.monotonicMs();
      if (isModbus) protocol.push(bytes, atMs);
      else intake.receive(source, bytes, atMs);
      isFlooding = floodDetector.add(bytes, atMs);
      if (!isFlooding) return;
      lostFault = fault('meter-flooding', { port: path });
      lost.abort();
    },
    onLost(cause) {
      lostFault = cause;
      lost.abort();
    },
    signal: stopping,
  });
  if (!outcome.ok) {
    await protocol.close();
    setStatus('lost', outcome.fault);
    return 'refused';
  }
  opened = outcome.value;
  if (!stopping.aborted) {
    onOpen();
    setStatus('waiting');
  }

  const ended = AbortSignal.any([lost.signal, stopping]);
  const silentMs = Math.max(timing.silentMs, 5 * (profile.mode === 'poll' ? (profile.poll?.everyMs ?? 0) : 0));
  protocol.open((data) => {
    if (!ended.aborted) opened?.write(data);
  });
  while (!ended.aborted) {
    await pause(silentMs / 5, ended);
    const quietMs = intake.hasBacklog(source) ? 0 : clock.monotonicMs() - protocol.lastReceivedMs();
    if (status.noteSilence(quietMs, silentMs)) context.onChange();
  }
  await opened.close();
  intake.drain(source);
  await protocol.close();
  if (stopping.aborted) return 'stopped';
  setStatus('lost', lostFault ?? fault('port-lost', { port: path }));
  return isFlooding ? 'flooding' : 'lost';
}
