import { fork, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Call, Called } from './command-process.ts';

const source = fileURLToPath(new URL('command-process.ts', import.meta.url));

let running: ChildProcess | undefined;
let last: Promise<unknown> = Promise.resolve();

function start(): ChildProcess {
  const child = fork(source, [], {
    env: { ...process.env, DISPLAY: '', WAYLAND_DISPLAY: '' },
    execArgv: [],
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  // It must not keep the tests running; it ends when their process does.
  child.unref();
  child.channel?.unref();
  return child;
}

function call(asked: Call): Promise<Called> {
  const child = (running ??= start());
  const { promise, resolve, reject } = Promise.withResolvers<Called>();
  const ended = () => {
    running = undefined;
    reject(new Error(`The process ended in "${asked.args.join(' ')}", which needs one of its own: runCommand.`));
  };
  child.channel?.ref();
  child.once('message', resolve);
  child.once('exit', ended);
  child.send(asked, (error) => error && reject(error));
  return promise.finally(() => {
    child.off('message', resolve);
    child.off('exit', ended);
    child.channel?.unref();
  });
}

/**
 * Calls the command line in a process that has already loaded it and keeps it compiled: same arguments, files, output and exit status as
 * `runCommand`, at a fraction of the time (`call-command.test.ts`). For commands that run to their end by themselves; signals, ports,
 * memory and the environment need a process of their own.
 */
export function callCommand(args: string[], cwd: string): Promise<Called> {
  const called = last.then(() => call({ args, cwd }));
  last = called.catch(() => undefined);
  return called;
}
