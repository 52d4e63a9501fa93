// `npm run verify`: checks the computation against values from outside and prints how well it agrees.
import { parseArgs } from 'node:util';
import { exitOnClosedPipe } from '../../electron/cli/output.ts';
import { judge } from './check.ts';
import { checks } from './checks.ts';
import { asJson, asMarkdown, asTable } from './report.ts';

const usage = `Usage: npm run -s verify -- [--markdown | --json]
Checks the computation against published and independently computed values. Exit status 1 when one does not agree.`;

function chooseFormat(): (verdicts: ReturnType<typeof judge>[]) => string {
  try {
    const { values } = parseArgs({
      options: { markdown: { type: 'boolean' }, json: { type: 'boolean' }, help: { type: 'boolean', short: 'h' } },
    });
    if (values.help) {
      process.stdout.write(`${usage}\n`);
      process.exit(0);
    }
    return values.json ? asJson : values.markdown ? asMarkdown : asTable;
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n${usage}\n`);
    process.exit(2);
  }
}

exitOnClosedPipe();
const format = chooseFormat();
const verdicts = checks.map(judge);
process.stdout.write(`${format(verdicts)}\n`);
process.exitCode = verdicts.every(({ passed }) => passed) ? 0 : 1;
