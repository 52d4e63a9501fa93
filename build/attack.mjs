// `npm run attack`: tries every known attack on the program and prints a table: what was tried, and whether it was held.
import { runSource } from './prepare.mjs';

await runSource('tests/attack/main.ts');
