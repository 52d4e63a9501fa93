import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { forkProcess } from '../../../electron/host/jobs/fork-process.ts';
import type { JobMessage, JobOrder } from '../../../electron/host/jobs/jobs.ts';
import { testFolder } from '../../helpers/test-folder.ts';

const order: JobOrder = { folder: 'none', job: { kind: 'analyze', capture: 'any' } };

/** Sends one order to a process that runs `source`, and gives what it says first. */
function runProcess(source: string, execArgv: string[] = []) {
  const file = join(testFolder(), 'process.mjs');
  writeFileSync(file, source);
  const process = forkProcess(file, execArgv);
  const said = new Promise<{ message: JobMessage } | { end: string | Error }>((resolve) => {
    process.listen({ onMessage: (message) => resolve({ message }), onEnd: (end) => resolve({ end }) });
    process.send(order);
  });
  return { process, said };
}

it('values that JSON does not know come back as they were', async () => {
  const { process, said } = runProcess(
    "process.on('message', () => process.send({ nan: NaN, far: -Infinity, none: undefined, bytes: new Uint8Array([1, 2]) }))",
  );
  expect(await said).toStrictEqual({
    message: { nan: Number.NaN, far: -Infinity, none: undefined, bytes: new Uint8Array([1, 2]) },
  });
  await process.kill();
});

it.skipIf(process.platform === 'win32')('a process that is killed says by which signal', async () => {
  const { said } = runProcess("process.on('message', () => process.kill(process.pid, 'SIGKILL'))");
  expect(await said).toEqual({ end: 'signal SIGKILL' });
});

it.skipIf(process.platform === 'win32')('a process that runs out of its memory ends alone', async () => {
  const { said } = runProcess("process.on('message', () => { for (const all = []; ; ) all.push({ n: all.length }) })", [
    '--max-old-space-size=16',
  ]);
  expect(await said).toEqual({ end: 'signal SIGABRT' });
});

it('a process that is ended has ended when that settles', async () => {
  const { process, said } = runProcess("process.on('message', () => { for (;;); })");
  await process.kill();
  expect(await said).toMatchObject({ end: expect.any(String) as string });
});

it('a host with nothing else to do waits for the end of a process', async () => {
  const fork = JSON.stringify(new URL('../../../electron/host/jobs/fork-process.ts', import.meta.url).href);
  const file = join(testFolder(), 'host.mjs');
  writeFileSync(
    file,
    `import { forkProcess } from ${fork};
    const process = forkProcess(${JSON.stringify(join(import.meta.dirname, 'fork-process.test.ts'))}, []);
    process.hold(false);
    await process.kill();
    console.log('ended');`,
  );
  const { status, stdout } = spawnSync(process.execPath, ['--disable-warning=ExperimentalWarning', file], {
    encoding: 'utf8',
  });
  expect({ status, stdout }).toEqual({ status: 0, stdout: 'ended\n' });
});
