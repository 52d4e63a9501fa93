import { Command, CommanderError } from 'commander';
import { CallError, allWritten, endQuietlyWhenNobodyReads, say, sayBug } from './output.ts';
import type { Status } from './output.ts';
import { version } from './program-files.ts';

interface CommandModule {
  /** Gives the command its arguments, options and help. */
  describe: (command: Command) => Command;
  /** Does it; called with the arguments and then the options. */
  run: (...given: never[]) => Promise<Status>;
}

/** Each command is a module of its own, loaded only when it is named: serial ports, store and PDF take time to load. */
const commands: Record<string, { summary: string; load: () => Promise<CommandModule> }> = {
  analyze: {
    summary: 'find the window and the set point of recorded sweeps',
    load: () => import('./commands/analyze.ts'),
  },
  compare: { summary: 'say what has changed since an earlier sweep', load: () => import('./commands/compare.ts') },
  report: { summary: 'write the proof-of-settings report', load: () => import('./commands/report.ts') },
  serve: { summary: 'open the workbench in a browser', load: () => import('./commands/serve.ts') },
  record: { summary: 'record meters into the store, without a window', load: () => import('./commands/record.ts') },
  ports: { summary: 'list serial ports, and what seems to speak on each', load: () => import('./commands/ports.ts') },
  captures: { summary: 'list what the store holds', load: () => import('./commands/captures.ts') },
  export: { summary: 'write a capture of the store to a file', load: () => import('./commands/export.ts') },
  import: { summary: 'take files into the store', load: () => import('./commands/import.ts') },
  convert: { summary: 'wide CSV to data package and back', load: () => import('./commands/convert.ts') },
  simulate: { summary: 'make a capture of an invented burner', load: () => import('./commands/simulate.ts') },
};

/** Runs one call of the program; gives its exit status. */
async function runCall(given: string[]): Promise<Status> {
  let status: Status = 0;
  const program = new Command('pilot-bench')
    .description(
      'Proves a burner pilot: finds the pressures at which it is steady and lights, and a set point between.',
    )
    .version(version)
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /u, 'pilot-bench: ')) })
    .showHelpAfterError('(--help says more)')
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
      say(`pilot-bench: ${error.message}`);
      return 2;
    }
    throw error;
  }
}

endQuietlyWhenNobodyReads();
process.on('uncaughtException', (error) => {
  sayBug('', error);
  process.exit(1);
});
try {
  process.exitCode = await runCall(process.argv.slice(2));
} catch (error) {
  sayBug('', error);
  process.exitCode = 1;
}
await allWritten();
