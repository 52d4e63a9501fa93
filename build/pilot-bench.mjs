#!/usr/bin/env node
// `pilot-bench COMMAND ...`: from a checkout the TypeScript as it stands, installed the bundle made by `npm run build`.
import { spawn } from 'node:child_process';
import { join, sep } from 'node:path';
import { ensureInstalled, pinnedNode, root, runsTypeScript } from './prepare.mjs';

const installed = root.includes(`${sep}node_modules${sep}`);

if (installed) {
  await import('../out/main/cli.js');
} else {
  ensureInstalled();
  if (runsTypeScript()) {
    await import('../electron/cli/main.ts');
  } else {
    const child = spawn(pinnedNode(), [join(root, 'electron/cli/main.ts'), ...process.argv.slice(2)], {
      stdio: 'inherit',
    });
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
    child.on('exit', (code, signal) => (signal ? process.kill(process.pid, signal) : process.exit(code ?? 1)));
  }
}
