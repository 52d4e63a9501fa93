import { setTimeout } from 'node:timers/promises';
import type { Command } from 'commander';
import { readSetup } from '../../../shared/files/setup-file.ts';
import { formatDuration } from '../../../shared/model/format.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { isPracticePort } from '../../../shared/model/ports/practice-port.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Host } from '../../host/host.ts';
import { captureJson } from './captures.ts';
import { readText } from '../captures/files.ts';
import { parseInstrument, registerProfiles } from '../recording/instruments.ts';
import type { Instrument } from '../recording/instruments.ts';
import { durationMs } from '../option-values.ts';
import type { Status } from '../output.ts';
import { print, printJson, printMessage, printFault } from '../output.ts';
import { currentMeters, monitorMeters } from '../recording/progress.ts';
import { finishOrRescue } from '../recording/finish-recording.ts';
import { captureFromStore } from '../captures/store-capture.ts';
import { allowNetworkHelp, openHost, neverAborted, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { stopRequest } from '../recording/stop-request.ts';
import { forceOption, type Overwriting } from '../captures/check-output.ts';
import { checkCaptureOutput, writeCapture } from '../captures/write-capture.ts';

interface Options extends StoreOptions, Overwriting {
  instrument: Instrument[];
  for?: number;
  out?: string;
  setup?: string;
  technician?: string;
  json?: boolean;
  allowNetwork?: boolean;
}

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      'Records meters into the store until Ctrl-C, or for a given time, and prints the id of the capture. Everything received is kept whatever happens; a recording that was killed is listed as interrupted.',
    )
    .requiredOption(
      '--instrument <port=profile...>',
      'a port and the profile of its meter: a built-in one by name, or a JSON file',
      (text: string, before: Instrument[] | undefined) => [...(before ?? []), parseInstrument(text)],
    )
    .option('--for <time>', 'duration: 60s, 5m, 500ms, or plain seconds', durationMs)
    .option('--out <file>', 'also export to this file: .zip, a package folder, or .csv')
    .option(...forceOption)
    .option('--setup <file>', "requirements of the burner's maker and data of the meters, stored with the capture")
    .option('--technician <name>', 'name of the technician')
    .option('--json', 'print one line of JSON instead of the id')
    .option('--allow-network', allowNetworkHelp)
    .addHelpText(
      'after',
      '\nExample: pilot-bench record --instrument "/dev/ttyUSB0=Manometer, one number a line" --instrument /dev/ttyUSB1=meter.json --for 5m',
    );

export async function run(options: Options): Promise<Status> {
  const stop = stopRequest();
  const setup = await prepare(options);
  const practice = options.instrument.some(({ port }) => isPracticePort(port));
  const allowNetwork = options.allowNetwork ?? false;
  const host = setup.ok
    ? await openHost(options, 'command', { practice, allowNetwork, buffersBeforeStart: true })
    : setup;
  if (!setup.ok || !host.ok) {
    if (!host.ok) printFault(host.fault);
    return 1;
  }
  stop.holdWhile(() => {
    const pending = host.value.pendingCount();
    return pending === 0 ? undefined : `Not yet: ${pending} lines are only in memory. They are being saved.`;
  });
  try {
    return await recordOn(host.value, setup.value, options, stop);
  } finally {
    const closeFault = await host.value.close();
    if (closeFault) printFault(closeFault);
  }
}

/** Checks, before recording, everything that would fail at the end. Gives the setup to record with. */
async function prepare({ out, setup, force = false }: Options): Promise<Outcome<Setup>> {
  if (out !== undefined) {
    const free = await checkCaptureOutput(out, { force });
    if (!free.ok) return free;
  }
  if (setup === undefined) return ok({});
  const text = await readText(setup);
  if (!text.ok) return text;
  const read = readSetup({ file: setup, text: text.value });
  if (!read.ok) return read;
  for (const notice of read.value.notices) printMessage(notice);
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
    printFault(named.fault);
    return 1;
  }
  for (const { port, profile } of named.value) {
    const connected = await host.handlers['meters.connect']({ port, profile }, neverAborted);
    if (connected.ok) continue;
    printFault(connected.fault);
    return 1;
  }
  const meters = monitorMeters(host, printMessage);
  try {
    const opened = await meters.settled();
    if (opened.every((meter) => meter.status === 'lost')) {
      printMessage('pilot-bench: no port could be opened, so nothing was recorded.');
      return 1;
    }
    if (stop.wasRequested()) return 1;
    const started = await host.handlers['captures.start']({ setup, technician: options.technician }, neverAborted);
    if (!started.ok) {
      printFault(started.fault);
      return 1;
    }
    const { capture } = started.value;
    const startedMs = performance.now();
    printMessage(`Recording ${capture}. Ctrl-C completes it.`);
    meters.startProgress();
    const ended = new AbortController();
    const timeUp = options.for === undefined ? [] : [delay(options.for, ended.signal)];
    await Promise.race([stop.requested, ...timeUp]);
    const recordedS = (performance.now() - startedMs) / 1000;
    ended.abort();
    meters.stop();
    if (stop.wasKilled()) return 1; // everything is stored, as an interrupted capture
    return await finish(host, { capture, recordedS }, options);
  } finally {
    meters.stop();
  }
}

/** Waits; an abort ends the wait at once, so that its timer does not keep the process running. */
const delay = (ms: number, signal: AbortSignal): Promise<void> => setTimeout(ms, undefined, { signal }).catch(() => {});

/** @param recordedS  duration of the recording, seconds; the last line of a meter that fell silent is earlier. */
async function finish(
  host: Host,
  { capture, recordedS }: { capture: string; recordedS: number },
  options: Options,
): Promise<Status> {
  const refused = await finishOrRescue(host, capture, options.out);
  if (refused) {
    printFault(refused);
    return 1;
  }
  const view = await host.handlers['captures.get']({ capture }, neverAborted);
  if (!view.ok) {
    printFault(view.fault);
    return 1;
  }
  const { lines, readings } = view.value;
  printMessage(`Complete: ${lines} lines, ${readings} readings in ${formatDuration(recordedS)}.`);
  const silent = (await currentMeters(host)).filter((meter) => meter.lines === 0);
  for (const { port } of silent) printMessage(`No data received from ${port}. Is its meter on and sending?`);
  if (options.json) printJson(captureJson(view.value));
  else print(capture);
  const status = silent.length > 0 ? 1 : 0; // the other meters are recorded all the same
  if (options.out === undefined) return status;

  const whole = await captureFromStore(host, capture);
  const written = whole.ok ? await writeCapture(whole.value, options.out, options) : whole;
  if (!written.ok) {
    printFault(written.fault);
    printMessage(`The capture is safe in the store: ${capture}`);
    return 1;
  }
  printMessage(`Written: ${options.out}`);
  return status;
}
