import { fork } from 'node:child_process';
import type { JobMessage } from './jobs.ts';
import { createListening, type StartProcess } from './running-process.ts';

/** Starts a child process of Node. */
export const forkProcess: StartProcess = (module, execArgv) => {
  const child = fork(module, [], {
    execArgv: [...execArgv, '--disable-warning=ExperimentalWarning'], // of running TypeScript
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  const listening = createListening();
  child.on('message', (message) => listening.message(message as JobMessage));
  child.once('error', listening.end);
  child.once('exit', (status, signal) => listening.end(signal ? `signal ${signal}` : `status ${status}`));
  return {
    // A process that could not start, or has ended, says so by its end.
    send(order) {
      if (child.connected) child.send(order, () => {});
    },
    listen: listening.listen,
    hold(isHeld) {
      child[isHeld ? 'ref' : 'unref']();
      child.channel?.[isHeld ? 'ref' : 'unref']();
    },
    async kill() {
      child.ref(); // for its end
      child.kill('SIGKILL');
      await listening.ended;
    },
  };
};
