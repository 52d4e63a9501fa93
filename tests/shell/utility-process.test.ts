import { fork } from 'node:child_process';
import { EventEmitter } from 'node:events';
import { expect, it, vi } from 'vitest';
import { createJobRunner } from '../../electron/host/jobs/job-runner.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { neverAborted, openTestHost } from '../host/test-host.ts';

// The channel of a utility process as https://www.electronjs.org/docs/latest/api/parent-port has it, over that of a child process of Node.
const parentPort = `data:text/javascript,process.parentPort = {
  on: (name, listener) => process.on(name, (data) => listener({ data })),
  postMessage: (message) => process.send(message),
};`;

// Electron's binary is not available where these tests run: a stand-in for what is used of it.
vi.mock('electron', () => ({
  utilityProcess: {
    fork(module: string, args: string[], { execArgv }: { execArgv: string[] }) {
      const child = fork(module, args, {
        execArgv: [...execArgv, '--disable-warning=ExperimentalWarning', '--import', parentPort],
        serialization: 'advanced',
        stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
      });
      const process = Object.assign(new EventEmitter(), {
        postMessage: (message: object) => void child.send(message),
        kill: () => child.kill(),
      });
      child.on('message', (message) => process.emit('message', message));
      child.on('exit', (status) => process.emit('exit', status ?? 1));
      return process;
    },
  },
}));

it('a job runs in a utility process of Electron', async () => {
  const { forkUtilityProcess } = await import('../../electron/shell/utility-process.ts');
  const folder = testFolder();
  const { record, send } = await openTestHost(folder);
  const capture = await record();
  send('2.5\r\n');
  const bugs: unknown[] = [];
  const runner = createJobRunner({ folder, start: forkUtilityProcess, onBug: (_name, error) => bugs.push(error) });
  const outcome = await runner.run({ kind: 'export', capture, format: 'package' }, neverAborted);
  expect(outcome).toMatchObject({ ok: true, value: { name: expect.stringMatching(/\.zip$/) as string } });
  await runner.stop();
  expect(bugs).toEqual([]);
});
