import { Command, CommanderError } from 'commander';
import { CallError, exitOnClosedPipe, flushOutput, printBug, printMessage } from './output.ts';
import type { Status } from './output.ts';
import { version } from './program-files.ts';

interface CommandModule {
  /** Adds arguments, options and help to the command. */
  describe: (command: Command) => Command;
  /** Runs the command; called with the arguments and then the options. Gives the exit status. */
  run: (...given: never[]) => Promise<Status>;
}

/** Each command is a module of its own, loaded only when it is called: serial ports, store and PDF take time to load. */
const commands: Record<string, { summary: string; load: () => Promise<CommandModule> }> = {
  analyze: {
    summary: 'find the pressure window and the set point of recorded sweeps',
    load: () => import('./commands/analyze.ts'),
  },
  advise: {
    summary: 'name the next light-off trial, or say why none is to be made',
    load: () => import('./commands/advise.ts'),
  },
  compare: { summary: 'show what has changed since an earlier sweep', load: () => import('./commands/compare.ts') },
  report: { summary: 'write the proof-of-settings report', load: () => import('./commands/report.ts') },
  serve: { summary: 'open the workbench in a browser', load: () => import('./commands/serve.ts') },
  record: {
    summary: 'record meters into the store, without the workbench',
    load: () => import('./commands/record.ts'),
  },
  ports: { summary: 'list serial ports and detect the meter on each', load: () => import('./commands/ports.ts') },
  captures: { summary: 'list the captures in the store', load: () => import('./commands/captures.ts') },
  export: { summary: 'write a capture from the store to a file', load: () => import('./commands/export.ts') },
  import: { summary: 'add captures from files to the store', load: () => import('./commands/import.ts') },
  convert: { summary: 'convert wide CSV to data package and back', load: () => import('./commands/convert.ts') },
  simulate: { summary: 'simulate a sweep of a burner', load: () => import('./commands/simulate.ts') },
};

/** Runs the call with these arguments; gives its exit status. */
async function runCall(given: string[]): Promise<Status> {
  let status: Status = 0;
  const program = new Command('pilot-bench')
    .description(
      'Proves a burner pilot: finds the pressures at which it burns steadily and lights, and the set point between them.',
    )
    .version(version)
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /u, 'pilot-bench: ')) })
    .showHelpAfterError('(see --help)')
    .addHelpText(
      'after',
      "\nPilot Bench only reads meters. The burner maker's manual, the code in force and a licensed person decide.",
    );
  for (const [name, { summary, load }] of Object.entries(commands)) {
    const command = program.command(name).summary(summary);
    if (!given.includes(name)) continue;
    const { describe, run } = await load();
    describe(command).action(async (...args: unknown[]) => {
      status = await (run as (...args: unknown[]) => Promise<Status>)(...args);
    });
  }
  try {
    await program.parseAsync(given, { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (error instanceof CallError) {
      printMessage(`pilot-bench: ${error.message}`);
      return 2;
    }
    throw error;
  }
}

/** Whether an argument names a command, so that it is a call of the command line. */
export const isCommand = (argument: string | undefined): boolean => argument !== undefined && argument in commands;

/** Runs the command line with these arguments to its end, bugs told and the output flushed; gives the exit status. */
export async function runProgram(given: string[]): Promise<number> {
  exitOnClosedPipe();
  process.on('uncaughtException', (error) => {
    printBug('', error);
    process.exit(1);
  });
  const status = await runCall(given).catch((error: unknown): Status => {
    printBug('', error);
    return 1;
  });
  await flushOutput();
  return status;
}
