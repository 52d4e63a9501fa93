import type { MeterState } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';
import { pause } from '../../topic.ts';
import { createLineProtocol } from '../protocol/line-protocol.ts';
import { createMeterStatus } from './meter-status.ts';
import type { MeterStatus } from './meter-status.ts';
import { createModbusProtocol } from '../protocol/modbus-protocol.ts';
import type { OpenedPort, OpenPort } from '../ports/port.ts';
import type { ReceivedLine } from '../protocol/protocol.ts';
import type { Timing } from '../protocol/timing.ts';
import type { Intake, Source } from './byte-intake.ts';

/** A line of a meter, stamped and read, on its way to the store. */
export interface MeterLine extends ReceivedLine {
  meter: Meter;
}

export interface MeterContext {
  clock: Clock;
  timing: Timing;
  openPort: OpenPort;
  intake: Intake;
  onLine(line: MeterLine): void;
  /** The line of readings broke off or goes on: a sentence for the time line. */
  onGap(text: string): void;
  /** The state changed (not called for each line). */
  onChange(): void;
}

export interface Meter {
  port: string;
  profile: Profile;
  /** Takes in lines that have been dealt with (stored, while recording): from now on they show. */
  publish(lines: readonly MeterLine[]): void;
  view(): MeterState;
  /** What is being recorded ends: hands on everything that has come, the beginning of a line too. */
  cut(): void;
  /** Closes the port; resolves when its last line has been handed on. */
  stop(): Promise<void>;
}

/**
 * Keeps the meter on `port` connected: opens the port, reads its lines, and opens it anew whenever it went away.
 * Writes nothing but the profile's own poll, and that only while the port is open.
 */
export function startMeter(port: string, profile: Profile, around: MeterContext): Meter {
  const { clock, timing } = around;
  const face = createMeterStatus(port, profile, clock);
  const stopping = new AbortController();

  let cut = () => {};
  const meter: Meter = {
    port,
    profile,
    publish: (lines) => face.publish(lines),
    view: () => face.view(),
    cut: () => cut(),
    async stop() {
      stopping.abort();
      await running;
    },
  };

  const onSaid = (said: ReceivedLine) => around.onLine({ meter, ...said });

  const run = async () => {
    let lostAtMs: number | undefined;
    while (!stopping.signal.aborted) {
      const connection = await connect(port, profile, around, face, stopping.signal, {
        onSaid,
        onOpen() {
          if (lostAtMs !== undefined) around.onGap(`${port} is back after ${seconds(clock.monotonicMs() - lostAtMs)}`);
          lostAtMs = undefined;
        },
        onCut: (next) => (cut = next),
      });
      cut = () => {};
      if (stopping.signal.aborted) return;
      if (connection === 'lost') {
        lostAtMs = clock.monotonicMs();
        around.onGap(`${port} went away`);
      }
      await pause(timing.retryMs, stopping.signal);
    }
  };
  const running = run();
  return meter;
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

interface Connected {
  onSaid(said: ReceivedLine): void;
  onOpen(): void;
  /** How this connection is asked for the beginning of a line that it holds. */
  onCut(cut: () => void): void;
}

/** One connection from opening to its end; 'refused' when it could not be opened. */
async function connect(
  path: string,
  profile: Profile,
  around: MeterContext,
  face: MeterStatus,
  stopping: AbortSignal,
  { onSaid, onOpen, onCut }: Connected,
): Promise<'lost' | 'refused' | 'stopped'> {
  const { clock, timing, intake } = around;
  const change = (status: 'opening' | 'waiting' | 'lost', trouble?: Fault) => {
    face.change(status, trouble);
    around.onChange();
  };
  if (!face.isLost()) change('opening');

  let opened: OpenedPort | undefined;
  // An answer must be read before the next question is put: it cannot wait, and such a meter sends no more than it is asked for.
  const isAsked = profile.line.format === 'modbus-rtu';
  const talk = isAsked
    ? createModbusProtocol({ port: path, profile, clock, answerMs: timing.answerMs, onSaid })
    : createLineProtocol({ port: path, profile, clock, onSaid }, () => opened?.beginsWhole !== false);

  const source: Source = { port: path, take: (bytes, atMs) => talk.push(bytes, atMs) };
  onCut(() => {
    intake.settle(source);
    talk.cut();
  });
  const gone = new AbortController();
  let why: Fault | undefined;
  const outcome = await around.openPort({
    path,
    serial: profile.serial,
    onBytes: (bytes) => {
      if (face.hear(bytes)) around.onChange();
      if (isAsked) talk.push(bytes, clock.monotonicMs());
      else intake.arrive(source, bytes, clock.monotonicMs());
    },
    onLost(fault) {
      why = fault;
      gone.abort();
    },
    signal: stopping,
  });
  if (!outcome.ok) {
    await talk.end();
    change('lost', outcome.fault);
    return 'refused';
  }
  opened = outcome.value;
  if (!stopping.aborted) {
    onOpen();
    change('waiting');
  }

  const ended = AbortSignal.any([gone.signal, stopping]);
  const silentMs = Math.max(timing.silentMs, 5 * (profile.mode === 'poll' ? (profile.poll?.everyMs ?? 0) : 0));
  talk.begin((data) => {
    if (!ended.aborted) opened?.write(data);
  });
  while (!ended.aborted) {
    await pause(silentMs / 5, ended);
    const quietMs = intake.isUnread(source) ? 0 : clock.monotonicMs() - talk.heardMs();
    if (face.noteSilence(quietMs, silentMs)) around.onChange();
  }
  await opened.close();
  intake.settle(source);
  await talk.end();
  if (stopping.aborted) return 'stopped';
  change('lost', why ?? fault('port-lost', { port: path }));
  return 'lost';
}
