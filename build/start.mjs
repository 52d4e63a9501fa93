// `npm start`: opens the workbench, installing and building what is missing. In Electron if there is a display and Electron's
// binary is there or can be downloaded, otherwise in the browser; without a display it prints the address.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, ensureInstalled, log, pinnedNode, root } from './prepare.mjs';

const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);

/** Path of Electron's own binary, downloaded once if necessary; undefined when it is not available. */
function electronBinary(node) {
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

ensureInstalled();
const node = pinnedNode();
build(node);

const binary = hasDisplay ? electronBinary(node) : undefined;
if (hasDisplay && !binary) log('Pilot Bench: Electron is not available here, so the workbench opens in the browser.');

const args = process.argv.slice(2);
const child = binary
  ? spawn(binary, ['.', ...args], { cwd: root, stdio: 'inherit' })
  : spawn(node, ['electron/cli/main.ts', 'serve', ...args], { cwd: root, stdio: 'inherit' });
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
child.on('exit', (code, signal) => process.exit(signal ? 0 : (code ?? 1)));
