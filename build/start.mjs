// `npm start`: opens the workbench, installing and building what is missing. In Electron if there is a display and Electron's
// binary is there or can be downloaded, otherwise in the browser; without a display it prints the address.
import { spawn } from 'node:child_process';
import { build, electronBinary, ensureInstalled, log, pinnedNode, root } from './prepare.mjs';

const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);

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
