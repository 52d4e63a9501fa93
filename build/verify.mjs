// `npm run verify`: holds the computation against values from outside and prints how well they agree.
import { runSource } from './prepare.mjs';

await runSource('tests/verify/main.ts');
