import type { MeterState, PortDetection } from '../../../../shared/contract/api.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../../shared/model/ports/network-port.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import { textOf } from '../../store/read/raw-bytes.ts';
import { pause, Topic } from '../../topic.ts';
import type { OpenPort } from '../ports/port.ts';
import { partialLineMs } from '../ports/port.ts';
import { completeLines, describeLine, matchingProfiles } from './match-profiles.ts';
import type { DetectedText, Serial } from './serial-framing.ts';
import { detectText, frameName, frames, printableShare } from './serial-framing.ts';

// In the order in which meters use them.
const baudRates = [9600, 115_200, 19_200, 4800, 38_400, 57_600, 2400];
// The slowest meters send every two seconds.
const listenMs = 2500;
// Every speed once and the likeliest ones with eleven bits; a person who waits longer thinks that it hangs.
const maxDetectionMs = 28_000;
const minLines = 4;
// A few lines' worth at any speed: what is no text by then will not become text.
const minGarbageBytes = 128;
const maxBytes = 8192;
// Fewer bytes without a line ending may just be a slow line.
const minEndlessBytes = 32;

export interface DetectionContext {
  openPort: OpenPort;
  /** The profiles to match. */
  profiles: readonly Profile[];
  /** Cancels the detection; the port is closed then. */
  signal: AbortSignal;
  /** Called before each speed and frame that is tried, with a text such as "at 9600 baud 8N1". */
  onTry?: (attempt: string) => void;
}

interface ReceivedBytes {
  bytes: Buffer;
  startsOnNewLine: boolean;
}

/**
 * Listens to a port at one speed after the other until lines of text come, and detects what sends them. Nothing is written.
 *
 * At each speed the port is opened as 8N1, by which frames of seven data bits are recognized too (`detectText`). When no speed gives
 * text, the likeliest are tried with eight data bits and a parity bit. A port that is silent at two speeds far apart is called silent,
 * since bytes come at any speed, if only as garbage. Ends within half a minute, or soon after `signal`.
 * @returns never `listening` or `connected`; what prevents listening is `unavailable`, with its sentence
 */
export async function detectMeter(path: string, context: DetectionContext): Promise<PortDetection> {
  const { signal } = context;
  const startedMs = performance.now();
  const tries: Serial[] = baudRates.map((baudRate) => ({ baudRate, ...frames['8N1'] }));
  const garbled: { baudRate: number; share: number }[] = [];
  let silentTries = 0;
  let endless: string | undefined;
  for (let serial = tries.shift(); serial; serial = tries.shift()) {
    if (performance.now() - startedMs > maxDetectionMs) break;
    context.onTry?.(isNetworkPort(path) ? 'over the network' : `at ${serial.baudRate} baud ${frameName(serial)}`);
    const received = await receive(path, serial, context);
    if (signal.aborted) return { path, status: 'unavailable', says: fault('cancelled').message };
    if (!received.ok) return { path, status: 'unavailable', says: received.fault.message };
    const { bytes, startsOnNewLine } = received.value;
    const text = detectText(bytes);
    // Line by line, since the first and the last may be cut in the middle of a character.
    const lines = text
      ? completeLines(text.text, startsOnNewLine).map((line) => textOf(Buffer.from(line, 'latin1')).raw)
      : [];
    if (text && lines.length > 0) return linesDetected(path, withFrame(serial, text), lines, context.profiles);
    if (text && bytes.length >= minEndlessBytes)
      endless ??= `${serial.baudRate} baud ${frameName(withFrame(serial, text))}`;

    if (bytes.length > 0) garbled.push({ baudRate: serial.baudRate, share: printableShare(bytes) });
    else silentTries += 1;
    if (garbled.length === 0 && (silentTries === 2 || isNetworkPort(path))) {
      const says = 'silent: switched off, waiting to be polled, or nothing connected';
      return { path, status: 'silent', says };
    }
    if (isNetworkPort(path)) break; // its speed is set on the serial server
    if (tries.length === 0 && frameName(serial) === '8N1') tries.push(...elevenBitTries(garbled));
  }
  const says = endless
    ? `sends text without line endings${isNetworkPort(path) ? '' : ` at ${endless}`}`
    : isNetworkPort(path)
      ? 'sends, but no lines of text: set the meter’s speed on the serial server'
      : 'sends, but no lines of text at the usual speeds';
  return { path, status: 'unreadable', says };
}

/** 8E1 and 8O1 at the speeds at which most of the bytes were printable. */
function elevenBitTries(garbled: { baudRate: number; share: number }[]): Serial[] {
  return garbled
    .toSorted((a, b) => b.share - a.share)
    .slice(0, 3)
    .flatMap(({ baudRate }) => [
      { baudRate, ...frames['8E1'] },
      { baudRate, ...frames['8O1'] },
    ]);
}

/** The speed it was opened with, and the frame that the meter uses: its own where one of seven bits was recognized in 8N1. */
const withFrame = (serial: Serial, { frame }: DetectedText): Serial =>
  frameName(frame) === '8N1' ? serial : { baudRate: serial.baudRate, ...frame };

function linesDetected(path: string, speed: Serial, lines: string[], profiles: readonly Profile[]): PortDetection {
  const serial = isNetworkPort(path) ? undefined : speed;
  const sample = (lines[0] ?? '').slice(0, 80);
  const line = describeLine(sample);
  const at = serial ? ` at ${serial.baudRate} baud ${frameName(serial)}` : '';
  return {
    path,
    status: 'lines',
    says: `${line}${at}, such as "${sample}"`,
    ...(serial && { serial }),
    line,
    sample,
    fits: matchingProfiles(lines, profiles, serial),
  };
}

/** The bytes of one opening of the port: until there are enough to decide, or the time is over. */
async function receive(
  path: string,
  serial: Serial,
  { openPort, signal }: DetectionContext,
): Promise<Outcome<ReceivedBytes>> {
  let bytes = Buffer.alloc(0);
  let openedMs: number | undefined;
  let firstByteMs: number | undefined;
  let isLost = false;
  let lostFault = fault('port-lost', { port: path });
  const done = new AbortController();
  const opened = await openPort({
    path,
    serial,
    signal,
    onBytes(more) {
      firstByteMs ??= performance.now();
      // A meter that floods the port is not recorded here.
      if (bytes.length < maxBytes) bytes = Buffer.concat([bytes, more]);
      if (isEnough(bytes)) done.abort();
    },
    onLost(cause) {
      isLost = true;
      lostFault = cause ?? lostFault;
      done.abort();
    },
  });
  if (!opened.ok) return opened;
  openedMs = performance.now();
  await pause(listenMs, AbortSignal.any([signal, done.signal]));
  await opened.value.close();
  if (isLost && bytes.length === 0) return fail(lostFault);
  const isLate = firstByteMs !== undefined && firstByteMs - openedMs >= partialLineMs;
  return ok({ bytes, startsOnNewLine: opened.value.startsOnNewLine || isLate });
}

function isEnough(bytes: Buffer): boolean {
  const text = detectText(bytes);
  if (text) return completeLines(text.text, false).length >= minLines;
  return bytes.length >= minGarbageBytes;
}

/**
 * Detects the meters on several ports at once: yields the detections on all whenever one has changed, in the order of `paths`, and
 * ends when all are done. A port for which `meterOn` gives a connected meter is described by its state and not opened. When the
 * consumer leaves, the detection ends.
 */
export async function* detectMeters(
  paths: readonly string[],
  { meterOn, ...context }: Omit<DetectionContext, 'onTry'> & { meterOn(path: string): MeterState | undefined },
): AsyncGenerator<PortDetection[], void> {
  const leaving = new AbortController();
  const signal = AbortSignal.any([context.signal, leaving.signal]);
  const topic = new Topic();
  const detections = new Map<string, PortDetection>();
  const update = (detection: PortDetection) => {
    detections.set(detection.path, detection);
    topic.notify();
  };
  const running = [...new Set(paths)].map(async (path) => {
    const meter = meterOn(path);
    if (meter) return update(connectedMeter(meter));
    update({ path, status: 'listening', says: 'opening the port' });
    const onTry = (says: string) => update({ path, status: 'listening', says });
    return update(await detectMeter(path, { ...context, signal, onTry }));
  });
  try {
    for (;;) {
      const { version } = topic;
      const now = [...detections.values()];
      yield now;
      if (signal.aborted || now.every(({ status }) => status !== 'listening')) return;
      await topic.changedSince(version, signal);
    }
  } finally {
    leaving.abort();
    await Promise.all(running);
  }
}

function connectedMeter({ port, profile, status, fault, recentLines }: MeterState): PortDetection {
  const sample = recentLines.findLast((line) => line.trim() !== '');
  const state = fault ? fault.message : status === 'live' ? 'it is being read' : 'no data yet';
  return {
    path: port,
    status: 'connected',
    says: `connected as ${profile}: ${state}`,
    ...(sample !== undefined && { sample }),
  };
}
