import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { testFolder } from '../helpers/test-folder.ts';

const root = join(import.meta.dirname, '..', '..');
const onWindows = process.platform === 'win32';

/** Runs a program to its end, in a folder where nothing of the checkout is. */
function run(program: string, args: string[], cwd: string): { status: number | null; out: string; err: string } {
  // npm hands its own settings and the path of the checkout's programs to what it starts: a user has neither.
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^npm_|NODE_PATH/iu.test(name)));
  const done = spawnSync(program, args, {
    cwd,
    env: { ...env, PILOT_BENCH_DATA: join(cwd, 'store') },
    encoding: 'utf8',
    // A registry that does not answer must not hold up all the tests behind this one.
    timeout: 200_000,
  });
  return { status: done.status, out: done.stdout, err: done.stderr };
}

it.skipIf(onWindows)(
  'the headless package, installed in a clean folder, has its commands and its page',
  { timeout: 240_000 },
  async () => {
    expect(existsSync(join(root, 'out', 'main', 'cli.js')), 'npm run build comes first').toBe(true);
    const folder = testFolder();
    const packed = run('npm', ['pack', root, '--ignore-scripts', '--silent'], folder);
    expect(packed).toMatchObject({ status: 0 });
    const [tarball] = readdirSync(folder).filter((name) => name.endsWith('.tgz'));
    const installed = run(
      'npm',
      [
        'install',
        '--global',
        '--prefix',
        join(folder, 'user'),
        '--ignore-scripts',
        '--prefer-offline',
        '--no-audit',
        '--no-fund',
        tarball!,
      ],
      folder,
    );
    expect({ status: installed.status, err: installed.err }).toMatchObject({ status: 0 });
    const program = join(folder, 'user', 'bin', 'pilot-bench');

    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
    expect(run(program, ['--version'], folder)).toMatchObject({ status: 0, out: `${version}\n` });

    for (const name of ['clean.csv', 'clean.setup.json', 'clean.trials.csv'])
      cpSync(join(root, 'sample-captures', name), join(folder, name));
    const here = run(program, ['analyze', 'clean.csv', '--json'], folder);
    const there = run(
      process.execPath,
      [join(root, 'electron', 'cli', 'main.ts'), 'analyze', 'clean.csv', '--json'],
      folder,
    );
    expect(here.status).toBe(0);
    expect(JSON.parse(here.out)).toEqual(JSON.parse(there.out));

    // The store, a job process and the largest library.
    expect(run(program, ['import', 'clean.csv'], folder)).toMatchObject({ status: 0 });
    expect(run(program, ['report', 'clean.csv', '--out', 'proof.pdf'], folder)).toMatchObject({ status: 0 });
    expect(readFileSync(join(folder, 'proof.pdf')).subarray(0, 5).toString()).toBe('%PDF-');

    const serving = spawn(program, ['serve', '--no-open', '--data', join(folder, 'store')], {
      cwd: folder,
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    try {
      const address = await new Promise<string>((resolve, reject) => {
        serving.stdout.on('data', (bytes: Buffer) => {
          const found = /Pilot Bench is at (\S+)/u.exec(bytes.toString());
          if (found) resolve(found[1]!);
        });
        serving.on('exit', (status) => reject(new Error(`serve ended with ${status}`)));
      });
      const page = await fetch(address);
      expect(await page.text()).toContain('<title>Pilot Bench');
    } finally {
      serving.kill();
    }

    expect(existsSync(join(folder, 'user', 'lib', 'node_modules', 'pilot-bench', 'out', 'licenses.txt'))).toBe(true);
    expect(existsSync(join(folder, 'user', 'lib', 'node_modules', 'pilot-bench', 'tests'))).toBe(false);
  },
);
