import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { testFolder } from '../helpers/test-folder.ts';

const program = fileURLToPath(new URL('out-of-files-process.ts', import.meta.url));

it.runIf(process.platform !== 'win32')(
  'a recording goes on without a file descriptor left, whatever is asked meanwhile, and each answer is a sentence',
  () => {
    const folder = join(testFolder(), 'store');
    const run = spawnSync('sh', ['-c', 'ulimit -n 64; exec "$0" "$@"', process.execPath, program, folder], {
      encoding: 'utf8',
      timeout: 60_000,
    });
    expect({ status: run.status, stderr: run.stderr }).toEqual({ status: 0, stderr: '' });
    const { left, sent, stored, bugs, answers } = JSON.parse(run.stdout) as {
      left: number;
      sent: number;
      stored: number[];
      bugs: string[];
      answers: Record<string, string>;
    };
    expect(left).toBeGreaterThan(5);
    expect(sent).toBeGreaterThan(50);
    expect(stored).toEqual(Array.from({ length: sent }, (_, i) => i + 1));
    expect(bugs).toEqual([]);
    expect(answers).toMatchObject({ 'ports.list': 'ports-unlisted', network: 'file-unwritable', finish: 'ok' });
  },
  90_000,
);
