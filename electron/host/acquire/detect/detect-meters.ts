import type { PortDetection, MeterState } from '../../../../shared/contract/api.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../../shared/model/network-port.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import { textOf } from '../../store/read/raw-bytes.ts';
import { pause, Topic } from '../../topic.ts';
import type { ReceivedText, Serial } from './serial-framing.ts';
import { frameName, frames, plainShare, textIn } from './serial-framing.ts';
import { matchingProfiles, shapeOf, wholeLines } from './match-profiles.ts';
import type { OpenPort } from '../ports/port.ts';
import { mayBeMidLineMs } from '../ports/port.ts';

// In the order in which meters use them.
const baudRates = [9600, 115_200, 19_200, 4800, 38_400, 57_600, 2400];
// The slowest meters send every two seconds.
const listenMs = 2500;
// Every speed once and the likeliest ones with eleven bits; a person who waits longer thinks that it hangs.
const longestMs = 28_000;
const enoughLines = 4;
// A few lines' worth at any speed: what is no text by then will not become text.
const enoughGarbage = 128;
const mostKept = 8192;

export interface DetectionContext {
  openPort: OpenPort;
  /** Among which the fitting ones are looked for. */
  profiles: readonly Profile[];
  /** Ends the listening; the port is closed then. */
  signal: AbortSignal;
  /** Told before each speed and frame that is tried, e.g. "at 9600 baud 8N1". */
  onTry?: (says: string) => void;
}

interface Bytes {
  bytes: Buffer;
  beginsWhole: boolean;
}

/**
 * Listens to a port at one speed after the other until lines of text come, and says what seems to speak. Nothing is written.
 *
 * At each speed the port is opened as 8N1, by which frames of seven data bits are recognised too (`textIn`). When no speed gives
 * text, the likeliest are tried with eight data bits and a parity bit. A port that is silent at two speeds far apart is silent at all,
 * since bytes come at any speed, if only as garbage. Ends within half a minute, or soon after `signal`.
 */
export async function detectMeter(path: string, around: DetectionContext): Promise<PortDetection> {
  const { signal } = around;
  const startedMs = performance.now();
  const tries: Serial[] = baudRates.map((baudRate) => ({ baudRate, ...frames['8N1'] }));
  const likely: { baudRate: number; share: number }[] = [];
  let silent = 0;
  let unended: string | undefined;
  for (let serial = tries.shift(); serial; serial = tries.shift()) {
    if (performance.now() - startedMs > longestMs) break;
    around.onTry?.(isNetworkPort(path) ? 'over the network' : `at ${serial.baudRate} baud ${frameName(serial)}`);
    const heard = await hear(path, serial, around);
    if (signal.aborted) return { path, status: 'unavailable', says: fault('cancelled').message };
    if (!heard.ok) return { path, status: 'unavailable', says: heard.fault.message };
    const { bytes, beginsWhole } = heard.value;
    const text = textIn(bytes);
    // Line by line, since the first and the last may be cut in the middle of a letter.
    const lines = text ? wholeLines(text.text, beginsWhole).map((line) => textOf(Buffer.from(line, 'latin1')).raw) : [];
    if (text && lines.length > 0) return told(path, asSent(serial, text), lines, around.profiles);
    if (text && bytes.length >= 32) unended ??= `${serial.baudRate} baud ${frameName(asSent(serial, text))}`;

    if (bytes.length > 0) likely.push({ baudRate: serial.baudRate, share: plainShare(bytes) });
    else silent += 1;
    if (likely.length === 0 && (silent === 2 || isNetworkPort(path))) {
      const says = 'silent: off, not sending by itself, or nothing connected';
      return { path, status: 'silent', says };
    }
    if (isNetworkPort(path)) break; // its speed is the serial server's affair
    if (tries.length === 0 && frameName(serial) === '8N1') tries.push(...elevenBits(likely));
  }
  const says = unended
    ? `sends text without line ends${isNetworkPort(path) ? '' : ` at ${unended}`}`
    : isNetworkPort(path)
      ? 'sends, but no lines of text: set the meter’s speed on the serial server'
      : 'sends, but no lines of text at the usual speeds';
  return { path, status: 'unreadable', says };
}

/** 8E1 and 8O1 at the speeds where most of what came could be read. */
function elevenBits(likely: { baudRate: number; share: number }[]): Serial[] {
  return likely
    .toSorted((a, b) => b.share - a.share)
    .slice(0, 3)
    .flatMap(({ baudRate }) => [
      { baudRate, ...frames['8E1'] },
      { baudRate, ...frames['8O1'] },
    ]);
}

/** The speed it was opened with, and the frame that the meter uses: its own where one of seven bits was seen in 8N1. */
const asSent = (serial: Serial, { frame }: ReceivedText): Serial =>
  frameName(frame) === '8N1' ? serial : { baudRate: serial.baudRate, ...frame };

function told(path: string, speed: Serial, lines: string[], profiles: readonly Profile[]): PortDetection {
  const serial = isNetworkPort(path) ? undefined : speed;
  const sample = (lines[0] ?? '').slice(0, 80);
  const line = shapeOf(sample);
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

/** What comes in one opening of the port: until it is enough to judge by, or the time is over. */
async function hear(path: string, serial: Serial, { openPort, signal }: DetectionContext): Promise<Outcome<Bytes>> {
  let bytes = Buffer.alloc(0);
  let openedMs: number | undefined;
  let firstByteMs: number | undefined;
  let lost = false;
  let why = fault('port-lost', { port: path });
  const done = new AbortController();
  const opened = await openPort({
    path,
    serial,
    signal,
    onBytes(more) {
      firstByteMs ??= performance.now();
      // A meter that floods the port is not kept.
      if (bytes.length < mostKept) bytes = Buffer.concat([bytes, more]);
      if (isEnough(bytes)) done.abort();
    },
    onLost(reason) {
      lost = true;
      why = reason ?? why;
      done.abort();
    },
  });
  if (!opened.ok) return opened;
  openedMs = performance.now();
  await pause(listenMs, AbortSignal.any([signal, done.signal]));
  await opened.value.close();
  if (lost && bytes.length === 0) return fail(why);
  const late = firstByteMs !== undefined && firstByteMs - openedMs >= mayBeMidLineMs;
  return ok({ bytes, beginsWhole: opened.value.beginsWhole || late });
}

function isEnough(bytes: Buffer): boolean {
  const text = textIn(bytes);
  if (text) return wholeLines(text.text, false).length >= enoughLines;
  return bytes.length >= enoughGarbage;
}

/**
 * Listens to several ports at once, each a wire of its own: gives the state of all whenever one has changed, in the order asked, and
 * ends when all is known. A port that `meterOn` knows is told from its meter and not opened. When the reader leaves, the listening ends.
 */
export async function* detectMeters(
  paths: readonly string[],
  { meterOn, ...around }: Omit<DetectionContext, 'onTry'> & { meterOn(path: string): MeterState | undefined },
): AsyncGenerator<PortDetection[], void> {
  const leaving = new AbortController();
  const signal = AbortSignal.any([around.signal, leaving.signal]);
  const topic = new Topic();
  const heard = new Map<string, PortDetection>();
  const say = (one: PortDetection) => {
    heard.set(one.path, one);
    topic.notify();
  };
  const listenings = [...new Set(paths)].map(async (path) => {
    const meter = meterOn(path);
    if (meter) return say(fromMeter(meter));
    say({ path, status: 'listening', says: 'opening the port' });
    const onTry = (says: string) => say({ path, status: 'listening', says });
    return say(await detectMeter(path, { ...around, signal, onTry }));
  });
  try {
    for (;;) {
      const { version } = topic;
      const now = [...heard.values()];
      yield now;
      if (signal.aborted || now.every(({ status }) => status !== 'listening')) return;
      await topic.changedSince(version, signal);
    }
  } finally {
    leaving.abort();
    await Promise.all(listenings);
  }
}

function fromMeter({ port, profile, status, fault, recentLines }: MeterState): PortDetection {
  const sample = recentLines.findLast((line) => line.trim() !== '');
  const how = fault ? fault.message : status === 'live' ? 'it is being read' : 'nothing has come yet';
  return {
    path: port,
    status: 'connected',
    says: `connected as ${profile}: ${how}`,
    ...(sample !== undefined && { sample }),
  };
}
