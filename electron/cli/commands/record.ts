import { dirname } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import type { Command } from 'commander';
import { readSetup } from '../../../shared/files/setup-file.ts';
import { fault } from '../../../shared/model/faults.ts';
import { formatDuration } from '../../../shared/model/format.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { isPracticePort } from '../../../shared/model/practice-port.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Host } from '../../host/host.ts';
import { captureJson } from './captures.ts';
import { kindOf, readText } from '../captures/files.ts';
import { parseInstrument, registerProfiles } from '../recording/instruments.ts';
import type { Instrument } from '../recording/instruments.ts';
import { durationMs } from '../option-values.ts';
import type { Status } from '../output.ts';
import { print, printJson, say, sayFault } from '../output.ts';
import { metersNow, watchMeters } from '../recording/progress.ts';
import { finishOrRescue } from '../recording/finish-recording.ts';
import { captureFromStore } from '../captures/store-capture.ts';
import { allowNetworkSays, openHost, untilDone, withStore } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { stopRequest } from '../recording/stop-request.ts';
import { captureFormat, writeCapture } from '../captures/write-capture.ts';

interface Options extends StoreOptions {
  instrument: Instrument[];
  for?: number;
  out?: string;
  setup?: string;
  technician?: string;
  json?: boolean;
  allowNetwork?: boolean;
}

export const describe = (command: Command): Command =>
  withStore(command)
    .description(
      'Records meters into the store until Ctrl-C, or for a given time, and prints the id of the capture. What has arrived is kept whatever happens; a recording that was killed is listed as interrupted.',
    )
    .requiredOption(
      '--instrument <port=profile...>',
      'port and what is on it: a built-in profile by its name, or a JSON file',
      (text: string, before: Instrument[] | undefined) => [...(before ?? []), parseInstrument(text)],
    )
    .option('--for <time>', 'how long: 60s, 5m, 500ms, or plain seconds', durationMs)
    .option('--out <file>', 'also export to this file: .zip, a package folder, or .csv')
    .option('--setup <file>', "what is asked of the burner (the maker's values), kept with the capture")
    .option('--technician <name>', 'who records')
    .option('--json', 'print one line of JSON instead of the id')
    .option('--allow-network', allowNetworkSays)
    .addHelpText(
      'after',
      '\nExample: pilot-bench record --instrument "/dev/ttyUSB0=Manometer, one number a line" --instrument /dev/ttyUSB1=meter.json --for 5m',
    );

export async function run(options: Options): Promise<Status> {
  const stop = stopRequest();
  const setup = await prepare(options);
  const practice = options.instrument.some(({ port }) => isPracticePort(port));
  const allowNetwork = options.allowNetwork ?? false;
  const host = setup.ok ? await openHost(options, 'command', { practice, allowNetwork, holdsBack: true }) : setup;
  if (!setup.ok || !host.ok) {
    if (!host.ok) sayFault(host.fault);
    return 1;
  }
  try {
    return await recordOn(host.value, setup.value, options, stop);
  } finally {
    const unsaved = await host.value.close();
    if (unsaved) sayFault(unsaved);
  }
}

/** Everything that would spoil the end is looked at before the beginning. Gives the setup to record with. */
async function prepare({ out, setup }: Options): Promise<Outcome<Setup>> {
  if (out !== undefined) {
    captureFormat(out);
    const folder = await kindOf(dirname(out));
    if (!folder.ok || folder.value !== 'folder')
      return fail(fault('file-unwritable', { file: out, reason: 'its folder does not exist' }));
  }
  if (setup === undefined) return ok({});
  const text = await readText(setup);
  if (!text.ok) return text;
  const read = readSetup({ file: setup, text: text.value });
  if (!read.ok) return read;
  for (const notice of read.value.notices) say(notice);
  return ok(read.value.setup);
}

async function recordOn(
  host: Host,
  setup: Setup,
  options: Options,
  stop: ReturnType<typeof stopRequest>,
): Promise<Status> {
  const named = await registerProfiles(host, options.instrument);
  if (!named.ok) {
    sayFault(named.fault);
    return 1;
  }
  for (const { port, profile } of named.value) {
    const connected = await host.handlers['meters.connect']({ port, profile }, untilDone);
    if (connected.ok) continue;
    sayFault(connected.fault);
    return 1;
  }
  const meters = watchMeters(host, say);
  try {
    const opened = await meters.settled();
    if (opened.every((meter) => meter.status === 'lost')) {
      say('pilot-bench: no port could be opened, so nothing is recorded.');
      return 1;
    }
    if (stop.wasRequested()) return 1;
    const started = await host.handlers['captures.start']({ setup, technician: options.technician }, untilDone);
    if (!started.ok) {
      sayFault(started.fault);
      return 1;
    }
    const { capture } = started.value;
    const beganMs = performance.now();
    say(`Recording ${capture}. Ctrl-C ends it properly.`);
    meters.tellProgress();
    const ended = new AbortController();
    const timeUp = options.for === undefined ? [] : [delay(options.for, ended.signal)];
    await Promise.race([stop.requested, ...timeUp]);
    const recordedS = (performance.now() - beganMs) / 1000;
    ended.abort();
    meters.stop();
    if (stop.wasKilled()) return 1; // everything is kept, as an interrupted capture
    return await finish(host, { capture, recordedS }, options);
  } finally {
    meters.stop();
  }
}

/** Waits; an abort ends the wait at once, so that its timer does not hold the process. */
const delay = (ms: number, signal: AbortSignal): Promise<void> => setTimeout(ms, undefined, { signal }).catch(() => {});

/** @param recordedS  how long was recorded, seconds; the last line of a meter that fell silent is older. */
async function finish(
  host: Host,
  { capture, recordedS }: { capture: string; recordedS: number },
  options: Options,
): Promise<Status> {
  const refused = await finishOrRescue(host, capture, options.out);
  if (refused) {
    sayFault(refused);
    return 1;
  }
  const view = await host.handlers['captures.get']({ capture }, untilDone);
  if (!view.ok) {
    sayFault(view.fault);
    return 1;
  }
  const { lines, readings } = view.value;
  say(`Complete: ${lines} lines, ${readings} readings in ${formatDuration(recordedS)}.`);
  const silent = (await metersNow(host)).filter((meter) => meter.lines === 0);
  for (const { port } of silent) say(`Nothing came from ${port}. Is its meter on and sending?`);
  if (options.json) printJson(captureJson(view.value));
  else print(capture);
  const status = silent.length > 0 ? 1 : 0; // what the others sent is recorded all the same
  if (options.out === undefined) return status;

  const whole = await captureFromStore(host, capture);
  const written = whole.ok ? await writeCapture(whole.value, options.out) : whole;
  if (!written.ok) {
    sayFault(written.fault);
    say(`The capture is safe in the store: ${capture}`);
    return 1;
  }
  say(`Written: ${options.out}`);
  return status;
}
