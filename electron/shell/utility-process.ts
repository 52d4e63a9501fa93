import { utilityProcess } from 'electron';
import type { JobMessage } from '../host/jobs/jobs.ts';
import { createListening, type StartProcess } from '../host/jobs/running-process.ts';

/** Starts a utility process of Electron. Only after `ready`. */
export const forkUtilityProcess: StartProcess = (module, execArgv) => {
  const child = utilityProcess.fork(module, [], { execArgv, serviceName: 'Pilot Bench analysis', stdio: 'inherit' });
  const listening = createListening();
  child.on('message', (message: JobMessage) => listening.message(message));
  child.once('exit', (status) => listening.end(`status ${status}`));
  return {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a process's port, not a window
    send: (order) => child.postMessage(order),
    listen: listening.listen,
    // Electron ends with its windows, whatever its processes do.
    hold() {},
    async kill() {
      // Without an effect on a process that has ended or has not started yet; then its end is reported all the same.
      child.kill();
      await listening.ended;
    },
  };
};
