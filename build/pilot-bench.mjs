#!/usr/bin/env node
// `pilot-bench COMMAND ...`: runs the TypeScript source in a checkout, and the bundle made by `npm run build` when installed.
import { sep } from 'node:path';
import { root, runSource } from './prepare.mjs';

const isInstalled = root.includes(`${sep}node_modules${sep}`);

if (isInstalled) await import('../out/main/cli.js');
else await runSource('electron/cli/main.ts');
