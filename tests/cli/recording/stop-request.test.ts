import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { expect, it } from 'vitest';

const stopRequestModule = new URL('../../../electron/cli/recording/stop-request.ts', import.meta.url).href;
const script = `
  await new Promise((resolve) => setTimeout(resolve, 200));
  const { stopRequest } = await import(${JSON.stringify(stopRequestModule)});
  const stop = stopRequest();
  await stop.requested;
  console.log(stop.wasRequested(), stop.wasKilled());`;

it('a command whose parent process was killed while it started ends as well', async () => {
  const child = spawn(process.execPath, ['--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
  });
  child.disconnect();
  let out = '';
  child.stdout!.on('data', (bytes: Buffer) => (out += bytes.toString()));
  await Promise.all([once(child, 'exit'), once(child.stdout!, 'end')]);
  expect(out.trim()).toBe('true true');
});
