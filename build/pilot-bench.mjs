#!/usr/bin/env node
// `pilot-bench COMMAND ...`: runs the TypeScript source in a checkout, and the bundle made by `npm run build` when installed.
import { sep } from 'node:path';
import { exitWith, root, runSource, runsTypeScript } from './prepare.mjs';

const isInstalled = root.includes(`${sep}node_modules${sep}`);

if (!isInstalled) await runSource('electron/cli/main.ts');
else if (runsTypeScript()) await import('../out/main/cli.js');
else exitWith(`Pilot Bench needs Node 22.18 or later when it is installed; this is ${process.version}.`);
