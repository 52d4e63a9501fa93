#!/usr/bin/env node
// `pilot-bench COMMAND ...`: from a checkout the TypeScript as it stands, installed the bundle made by `npm run build`.
import { sep } from 'node:path';
import { root, runSource } from './prepare.mjs';

const installed = root.includes(`${sep}node_modules${sep}`);

if (installed) await import('../out/main/cli.js');
else await runSource('electron/cli/main.ts');
