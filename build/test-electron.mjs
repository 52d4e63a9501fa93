// `npm run test:electron`: the desktop program in Electron's own binary, driven by Playwright. `npm test` runs the same test on a stand-in.
// The fuses are read back by `npm run package`.
import { build, electronBinary, ensureInstalled, exitWith, pinnedNode, run } from './prepare.mjs';

ensureInstalled();
const node = pinnedNode();
build(node);
const binary = electronBinary(node);
if (!binary)
  exitWith("Pilot Bench: nothing was tested, because Electron's binary is not here and could not be downloaded.");
process.exitCode = run(node, ['node_modules/@playwright/test/cli.js', 'test', 'desktop'], {
  env: { ...process.env, PILOT_BENCH_ELECTRON: binary },
});
