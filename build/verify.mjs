// `npm run verify`: checks the computation against outside values and prints how well they agree.
import { runSource } from './prepare.mjs';

await runSource('tests/verify/main.ts');
