import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { testFolder, until } from '../../helpers/run-command.ts';
import { bannerOf, openBench, stored, takeForDead, texts, untilDone, valueOf } from '../test-host.ts';

const recording = fileURLToPath(new URL('../../crash/recording-process.ts', import.meta.url));

/** Another process that records into the store in `folder` what is written to it. */
async function otherProcess(folder: string) {
  const child = spawn(process.execPath, [recording, folder], { stdio: ['pipe', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const said = await new Promise<string>((resolve) => {
    child.stdout.once('data', (text: Buffer) => resolve(text.toString()));
  });
  return { child, capture: said.trim().replace('recording ', '') };
}

describe('two programs on one store', () => {
  it('both record, each its own capture, and each is told of the other; when one dies its capture is interrupted', async () => {
    const folder = testFolder();
    const here = await openBench(folder);
    const other = await otherProcess(folder);
    const shown = await bannerOf('store-shared', here.banner);
    expect(shown.message).toContain(`process ${other.child.pid}`);
    expect(shown.message).toContain(other.capture);
    // Neither takes the other's for its own.
    expect(await here.host.handlers['captures.continue']({ capture: other.capture }, untilDone)).toMatchObject({
      fault: { code: 'capture-elsewhere' },
    });
    expect(await here.host.handlers['captures.finish']({ capture: other.capture }, untilDone)).toMatchObject({
      fault: { code: 'capture-elsewhere' },
    });
    const own = await here.record();
    for (let n = 1; n <= 50; n += 1) {
      here.send(`${n}\r\n`);
      other.child.stdin.write(`${1000 + n}\r\n`);
      await new Promise((resolve) => {
        setTimeout(resolve, 5);
      });
    }
    await until('all lines of both', () =>
      [own, other.capture].every((capture) => stored(folder, capture).lines.length === 50),
    );
    expect(texts(stored(folder, own)).map(Number)).toEqual(Array.from({ length: 50 }, (_, i) => i + 1));
    expect(texts(stored(folder, other.capture)).map(Number)).toEqual(Array.from({ length: 50 }, (_, i) => 1001 + i));
    expect(stored(folder, other.capture).status).toBe('recording');

    other.child.kill('SIGKILL');
    await until('the end of the banner', () => stored(folder, other.capture).status === 'interrupted');
    expect(await here.banner()).toBeUndefined();
    expect(stored(folder, own).status).toBe('recording');
    valueOf(await here.host.handlers['captures.finish']({ capture: own }, untilDone));
  });

  it('a recording that was thought dead and that nobody took up goes on in its own capture', async () => {
    const folder = testFolder();
    const { host, send, record } = await openBench(folder);
    const capture = await record();
    send('1\r\n');
    await until('the first line', () => stored(folder, capture).lines.length === 1);
    takeForDead(folder, capture);
    send('2\r\n');
    await until('the second line', () => stored(folder, capture).lines.length === 2);
    expect(stored(folder, capture).status).toBe('recording');
    valueOf(await host.handlers['captures.finish']({ capture }, untilDone));
    expect(texts(stored(folder, capture))).toEqual(['1', '2']);
  });

  it('one that was taken up by another meanwhile goes on in a new capture: nothing mixed, nothing lost', async () => {
    const folder = testFolder();
    const asleep = await openBench(folder);
    const capture = await asleep.record();
    asleep.send('1\r\n2\r\n');
    await until('two lines', () => stored(folder, capture).lines.length === 2);
    takeForDead(folder, capture);
    const next = await openBench(folder);
    valueOf(await next.host.handlers['captures.continue']({ capture }, untilDone));
    next.send('101\r\n');
    await until('the line of the next', () => stored(folder, capture).lines.length === 3);

    asleep.send('3\r\n4\r\n');
    next.send('102\r\n');
    const told = await bannerOf('capture-taken', asleep.banner);
    const now = (told as { facts?: { now?: string } }).facts?.now ?? '';
    expect(told.message).toContain(capture);
    await until('the lines of both', () => stored(folder, capture).lines.length === 4);
    asleep.send('5\r\n');
    await until('the lines of the one that woke', () => stored(folder, now).lines.length === 3);
    expect(texts(stored(folder, capture))).toEqual(['1', '2', '101', '102']);
    expect(texts(stored(folder, now))).toEqual(['3', '4', '5']);
    expect(stored(folder, now)).toMatchObject({
      startedAt: stored(folder, capture).startedAt,
      marks: [{ kind: 'gap', text: `goes on from capture ${capture}, which another Pilot Bench took up` }],
    });
    valueOf(await next.host.handlers['captures.finish']({ capture }, untilDone));
    valueOf(await asleep.host.handlers['captures.finish']({ capture: now }, untilDone));
  });

  it('one that was completed by another meanwhile is not added to', async () => {
    const folder = testFolder();
    const asleep = await openBench(folder);
    const capture = await asleep.record();
    asleep.send('1\r\n');
    await until('the first line', () => stored(folder, capture).lines.length === 1);
    takeForDead(folder, capture);
    const next = await openBench(folder);
    valueOf(await next.host.handlers['captures.finish']({ capture }, untilDone));
    asleep.send('2\r\n');
    // Who does not know yet ends what he sees: what waited is completed beside it.
    valueOf(await asleep.host.handlers['captures.finish']({ capture }, untilDone));
    const all = valueOf(await next.host.handlers['captures.list']({}, untilDone));
    expect(all.map(({ status, lines }) => ({ status, lines }))).toEqual([
      { status: 'complete', lines: 1 },
      { status: 'complete', lines: 1 },
    ]);
    expect(new Set(all.map(({ id }) => texts(stored(folder, id)).join()))).toEqual(new Set(['1', '2']));
  });
});
