import { runProgram } from './run-program.ts';

process.exitCode = await runProgram(process.argv.slice(2));
