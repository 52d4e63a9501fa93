import { MessageChannel } from 'node:worker_threads';
import { onTestFinished } from 'vitest';
import type { Host } from '../../../electron/host/host.ts';
import type { Api } from '../../../shared/contract/api.ts';
import { api } from '../../../shared/contract/api.ts';
import type { Client } from '../../../shared/contract/connect.ts';
import { connect } from '../../../shared/contract/connect.ts';
import type { PortLike } from '../../../shared/contract/port-channel.ts';
import { portChannel } from '../../../shared/contract/port-channel.ts';
import { serve } from '../../../shared/contract/serve.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../test-host.ts';

// The purge wait when the setup gives none, as the Burner form shows it; the burner maker's value replaces it.
export const defaultPurgeS = 60;

/** A clock that the test advances; its wall time may be set apart. */
export function createClock() {
  let nowMs = 5000;
  let wallOffsetMs = Date.parse('2026-11-25T10:00:00Z');
  return {
    clock: { monotonicMs: () => nowMs, wallMs: () => wallOffsetMs + nowMs },
    advance: (seconds: number) => void (nowMs += 1000 * seconds),
    setWallBack: (seconds: number) => void (wallOffsetMs -= 1000 * seconds),
  };
}
type TestClock = ReturnType<typeof createClock>;

/** The calls of one desktop window or browser tab: a client of its own over the contract, as the page has it. */
export function openDesktopWindow(host: Host): Client<Api> {
  const { port1, port2 } = new MessageChannel();
  const [page, served] = [port1, port2].map((port) => portChannel(port as unknown as PortLike));
  serve(api, host.handlers, served!, (_name, error) => {
    throw error;
  });
  onTestFinished(() => page!.close());
  return connect(api, page!);
}

/** A host with a manometer, and one desktop window on it. */
export async function openHost(folder: string, time: TestClock) {
  const { host, send } = await openTestHost(folder, { clock: time.clock });
  const page = openDesktopWindow(host);
  const linesShown = async () => {
    for await (const [meter] of host.handlers['meters.live']({}, neverAborted)) return meter?.lines ?? 0;
    throw new Error('meters.live gave nothing');
  };
  return {
    host,
    page,
    send,
    /** Sends pressures, inH2O, one second after the other; resolves when the last is shown. */
    async sendPressures(...pressures: (number | string)[]) {
      const before = await linesShown();
      for (const [i, pressure] of pressures.entries()) {
        if (i > 0) time.advance(1);
        send(`${pressure}\r\n`);
      }
      for (let shown = await linesShown(); shown < before + pressures.length; shown = await linesShown())
        await new Promise((resolve) => {
          setTimeout(resolve, 10);
        });
    },
  };
}

/** A recording with a manometer that shows 2.28 inH2O. */
export async function record(setup: Setup = {}) {
  const folder = testFolder();
  const time = createClock();
  const opened = await openHost(folder, time);
  const { capture } = valueOf(await opened.page['captures.start']({ setup }));
  time.advance(10);
  await opened.sendPressures('2.28');
  const view = async () => valueOf(await opened.page['captures.get']({ capture }));
  return { ...opened, folder, time, capture, view };
}

export const codeOf = (outcome: { ok: boolean; fault?: { code: string } }) =>
  outcome.ok ? 'ok' : (outcome.fault?.code ?? 'no fault');
