import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import {
  waitForBanner,
  openTestHost,
  storedCapture,
  interruptAsOrphan,
  lineTexts,
  neverAborted,
  valueOf,
} from '../test-host.ts';

const recording = fileURLToPath(new URL('../../crash/recording-process.ts', import.meta.url));

/** Another process that records into the store in `folder` what is written to its standard input. */
async function otherProcess(folder: string) {
  const child = spawn(process.execPath, [recording, folder], { stdio: ['pipe', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const output = await new Promise<string>((resolve) => {
    child.stdout.once('data', (text: Buffer) => resolve(text.toString()));
  });
  return { child, capture: output.trim().replace('recording ', '') };
}

describe('two programs on one store', () => {
  it('both record, each into its own capture, and each reports the other; when one is killed its capture becomes interrupted', async () => {
    const folder = testFolder();
    const here = await openTestHost(folder);
    const other = await otherProcess(folder);
    const shown = await waitForBanner('store-shared', here.banner);
    expect(shown.message).toContain(`process ${other.child.pid}`);
    expect(shown.message).toContain(other.capture);
    // Neither can continue or complete the other's.
    expect(await here.host.handlers['captures.continue']({ capture: other.capture }, neverAborted)).toMatchObject({
      fault: { code: 'capture-elsewhere' },
    });
    expect(await here.host.handlers['captures.finish']({ capture: other.capture }, neverAborted)).toMatchObject({
      fault: { code: 'capture-elsewhere' },
    });
    const own = await here.record();
    for (let n = 1; n <= 50; n += 1) {
      here.send(`${n}\r\n`);
      other.child.stdin.write(`${1000 + n}\r\n`);
      await wait(5);
    }
    await waitUntil('all lines of both', () =>
      [own, other.capture].every((capture) => storedCapture(folder, capture).lines.length === 50),
    );
    expect(lineTexts(storedCapture(folder, own)).map(Number)).toEqual(Array.from({ length: 50 }, (_, i) => i + 1));
    expect(lineTexts(storedCapture(folder, other.capture)).map(Number)).toEqual(
      Array.from({ length: 50 }, (_, i) => 1001 + i),
    );
    expect(storedCapture(folder, other.capture).status).toBe('recording');

    other.child.kill('SIGKILL');
    await waitUntil('the end of the banner', () => storedCapture(folder, other.capture).status === 'interrupted');
    expect(await here.banner()).toBeUndefined();
    expect(storedCapture(folder, own).status).toBe('recording');
    valueOf(await here.host.handlers['captures.finish']({ capture: own }, neverAborted));
  });

  it('a recording that was set to interrupted and not taken over continues in its own capture', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    const capture = await record();
    send('1\r\n');
    await waitUntil('the first line', () => storedCapture(folder, capture).lines.length === 1);
    interruptAsOrphan(folder, capture);
    send('2\r\n');
    await waitUntil('the second line', () => storedCapture(folder, capture).lines.length === 2);
    expect(storedCapture(folder, capture).status).toBe('recording');
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    expect(lineTexts(storedCapture(folder, capture))).toEqual(['1', '2']);
  });

  it('one that was taken over by another meanwhile continues in a new capture: nothing mixed, nothing lost', async () => {
    const folder = testFolder();
    const asleep = await openTestHost(folder);
    const capture = await asleep.record();
    asleep.send('1\r\n2\r\n');
    await waitUntil('two lines', () => storedCapture(folder, capture).lines.length === 2);
    interruptAsOrphan(folder, capture);
    const next = await openTestHost(folder);
    valueOf(await next.host.handlers['captures.continue']({ capture }, neverAborted));
    next.send('101\r\n');
    await waitUntil('the line of the next', () => storedCapture(folder, capture).lines.length === 3);

    asleep.send('3\r\n4\r\n');
    next.send('102\r\n');
    const shown = await waitForBanner('capture-taken', asleep.banner);
    const now = (shown as { facts?: { now?: string } }).facts?.now ?? '';
    expect(shown.message).toContain(capture);
    await waitUntil('the lines of both', () => storedCapture(folder, capture).lines.length === 4);
    asleep.send('5\r\n');
    await waitUntil('the lines of the one that woke', () => storedCapture(folder, now).lines.length === 3);
    expect(lineTexts(storedCapture(folder, capture))).toEqual(['1', '2', '101', '102']);
    expect(lineTexts(storedCapture(folder, now))).toEqual(['3', '4', '5']);
    expect(storedCapture(folder, now)).toMatchObject({
      startedAt: storedCapture(folder, capture).startedAt,
      marks: [{ kind: 'gap', text: `continues capture ${capture}, which another Pilot Bench took over` }],
    });
    valueOf(await next.host.handlers['captures.finish']({ capture }, neverAborted));
    valueOf(await asleep.host.handlers['captures.finish']({ capture: now }, neverAborted));
  });

  it('one that was completed by another meanwhile is not appended to', async () => {
    const folder = testFolder();
    const asleep = await openTestHost(folder);
    const capture = await asleep.record();
    asleep.send('1\r\n');
    await waitUntil('the first line', () => storedCapture(folder, capture).lines.length === 1);
    interruptAsOrphan(folder, capture);
    const next = await openTestHost(folder);
    valueOf(await next.host.handlers['captures.finish']({ capture }, neverAborted));
    asleep.send('2\r\n');
    // The first host does not know yet: its pending line becomes a capture of its own, complete as well.
    valueOf(await asleep.host.handlers['captures.finish']({ capture }, neverAborted));
    const all = valueOf(await next.host.handlers['captures.list']({}, neverAborted));
    expect(all.map(({ status, lines }) => ({ status, lines }))).toEqual([
      { status: 'complete', lines: 1 },
      { status: 'complete', lines: 1 },
    ]);
    expect(new Set(all.map(({ id }) => lineTexts(storedCapture(folder, id)).join()))).toEqual(new Set(['1', '2']));
  });
});
