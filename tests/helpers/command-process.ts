import { runProgram } from '../../electron/cli/run-program.ts';

/** A call of the command line, asked of this process. */
export interface Call {
  args: string[];
  cwd: string;
}

/** What the call did; the same as of a command in a process of its own. */
export interface Called {
  status: number;
  out: string;
  err: string;
}

/** What commands listen to, for as long as their process lasts. */
const listened = ['uncaughtException', 'disconnect', 'SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Runs one call with its output kept, and puts back what a command may leave changed in its process. */
async function carryOut({ args, cwd }: Call): Promise<Called> {
  const kept = { out: '', err: '' };
  const streams = [
    { stream: process.stdout, to: 'out' },
    { stream: process.stderr, to: 'err' },
  ] as const;
  const before = streams.map(({ stream }) => ({ write: stream.write, onError: stream.listeners('error') }));
  for (const { stream, to } of streams)
    stream.write = (text: string | Uint8Array, ...more: unknown[]) => {
      kept[to] += typeof text === 'string' ? text : Buffer.from(text).toString();
      const done = more.at(-1);
      if (typeof done === 'function') queueMicrotask(done as () => void);
      return true;
    };
  process.chdir(cwd);
  process.env['PILOT_BENCH_DATA'] = `${cwd}/store`;
  const status = await runProgram(args);
  streams.forEach(({ stream }, i) => {
    stream.write = before[i]!.write;
    for (const listener of stream.listeners('error'))
      if (!before[i]!.onError.includes(listener)) stream.off('error', listener as () => void);
  });
  for (const event of listened) process.removeAllListeners(event);
  process.chdir('/');
  // A long command lets its process end although the one that started it still listens.
  process.channel?.ref();
  return { status, ...kept };
}

// One call at a time: the working folder belongs to the process.
let last = Promise.resolve();
process.on('message', (call: Call) => {
  last = last.then(async () => void process.send?.(await carryOut(call)));
});
