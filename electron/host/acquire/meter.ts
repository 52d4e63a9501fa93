import type { MeterState } from '../../../shared/contract/api.ts';
import type { Decoded } from '../../../shared/instruments/decode.ts';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import type { Clock } from '../clock.ts';
import { textOf } from '../store/raw-bytes.ts';
import { pause } from '../topic.ts';
import type { LineBytes } from './line-reader.ts';
import { createLineReader } from './line-reader.ts';
import { createMeterFace } from './meter-face.ts';
import type { MeterFace, ReadLine } from './meter-face.ts';
import type { OpenedPort, OpenPort } from './port.ts';
import { mayBeMidLineMs } from './port.ts';
import type { Timing } from './timing.ts';

/** A line of a meter, stamped and read, on its way to the store. */
export interface MeterLine extends ReadLine {
  meter: Meter;
  bytes: Buffer;
}

export interface MeterSurroundings {
  clock: Clock;
  timing: Timing;
  openPort: OpenPort;
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
  /** Closes the port; resolves when its last line has been handed on. */
  stop(): Promise<void>;
}

/**
 * Keeps the meter on `port` connected: opens the port, reads its lines, and opens it anew whenever it went away.
 * Writes nothing but the profile's own poll, and that only while the port is open.
 */
export function startMeter(port: string, profile: Profile, around: MeterSurroundings): Meter {
  const { clock, timing } = around;
  const decode = createLineDecoder(profile);
  const face = createMeterFace(port, profile, clock);
  const stopping = new AbortController();

  const meter: Meter = {
    port,
    profile,
    publish: (lines) => face.publish(lines),
    view: () => face.view(),
    async stop() {
      stopping.abort();
      await running;
    },
  };

  const onLine = (line: LineBytes, atMs: number, suspect: boolean) => {
    const { raw: text } = textOf(line.bytes);
    const readings = decode(text);
    // Half a number is a wrong number: of a partial line only the text is kept.
    const trusted = line.partial || suspect ? readings.map(distrusted) : readings;
    around.onLine({ meter, atMs, bytes: line.bytes, text, readings: trusted });
  };

  const run = async () => {
    let lostAtMs: number | undefined;
    while (!stopping.signal.aborted) {
      const connection = await connect(port, profile, around, face, stopping.signal, onLine, () => {
        if (lostAtMs !== undefined) around.onGap(`${port} is back after ${seconds(clock.monotonicMs() - lostAtMs)}`);
        lostAtMs = undefined;
      });
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

const distrusted = (reading: Decoded): Decoded => ({
  ...reading,
  value: Number.NaN,
  flag: reading.flag ?? 'unreadable',
});

/** One connection from opening to its end; 'refused' when it could not be opened. */
async function connect(
  path: string,
  profile: Profile,
  around: MeterSurroundings,
  face: MeterFace,
  stopping: AbortSignal,
  onLine: (line: LineBytes, atMs: number, suspect: boolean) => void,
  onOpen: () => void,
): Promise<'lost' | 'refused' | 'stopped'> {
  const { clock, timing } = around;
  const change = (status: 'opening' | 'waiting' | 'lost', trouble?: Fault) => {
    face.change(status, trouble);
    around.onChange();
  };
  if (!face.isLost()) change('opening');

  let lastByteMs = clock.monotonicMs();
  let firstByteMs: number | undefined;
  let openedMs = lastByteMs;
  let opened: OpenedPort | undefined;
  let firstLine = true;
  const reader = createLineReader((line) => {
    const early = firstByteMs !== undefined && firstByteMs - openedMs < mayBeMidLineMs;
    const suspect = firstLine && early && profile.mode === 'stream' && opened?.beginsWhole === false;
    firstLine = false;
    onLine(line, lastByteMs, suspect);
  });

  const gone = new AbortController();
  let why: Fault | undefined;
  const outcome = await around.openPort({
    path,
    serial: profile.serial,
    onBytes(bytes) {
      lastByteMs = clock.monotonicMs();
      firstByteMs ??= lastByteMs;
      if (face.hear(bytes)) around.onChange();
      reader.push(bytes);
    },
    onLost(fault) {
      why = fault;
      gone.abort();
    },
    signal: stopping,
  });
  if (!outcome.ok) {
    await reader.end();
    change('lost', outcome.fault);
    return 'refused';
  }
  opened = outcome.value;
  openedMs = clock.monotonicMs();
  if (!stopping.aborted) {
    onOpen();
    change('waiting');
  }

  const ended = AbortSignal.any([gone.signal, stopping]);
  const poll = profile.mode === 'poll' ? profile.poll : undefined;
  const polling = poll && setInterval(() => opened.write(poll.send), poll.everyMs);
  const silentMs = Math.max(timing.silentMs, 5 * (poll?.everyMs ?? 0));
  while (!ended.aborted) {
    await pause(silentMs / 5, ended);
    if (face.noteSilence(clock.monotonicMs() - lastByteMs, silentMs)) around.onChange();
  }
  clearInterval(polling);
  await opened.close();
  await reader.end();
  if (stopping.aborted) return 'stopped';
  change('lost', why ?? fault('port-lost', { port: path }));
  return 'lost';
}
