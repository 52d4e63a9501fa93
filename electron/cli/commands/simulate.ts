import type { Command } from 'commander';
import { scenarios } from '../../../shared/practice/scenarios.ts';
import { simulateVisit, sweepsOnly } from '../../../shared/practice/simulate.ts';
import { writeAtomically } from '../../host/files/write-whole.ts';
import { wholeNumber } from '../option-values.ts';
import type { Status } from '../output.ts';
import { CallError, reportWritten } from '../output.ts';
import { checkOutputFiles, forceOption, type Overwriting } from '../captures/check-output.ts';
import { captureFormat, checkCaptureOutput, writeCapture } from '../captures/write-capture.ts';

interface Options extends Overwriting {
  scenario: string;
  seed: number;
  out: string;
  truth?: string;
}

const scenarioList = (): string => scenarios.map(({ name, description }) => `  ${name}: ${description}`).join('\n');

export const describe = (command: Command): Command =>
  command
    .description('Simulates a technician who sweeps a burner: writes readings, setup and light-off trials.')
    .requiredOption('--scenario <name>', 'the simulated burner; see below')
    .option('--seed <n>', 'the same seed gives the same capture', wholeNumber('--seed', 0, 0xffff_ffff), 1)
    .requiredOption('--out <file>', 'file to write: .csv (with setup and trials beside it), .zip, or a package folder')
    .option('--truth <file>', 'also write the true values of the simulated burner, as JSON')
    .option(...forceOption)
    .addHelpText('after', () => `\nScenarios:\n${scenarioList()}`);

export async function run({ scenario, seed, out, truth: truthFile, force = false }: Options): Promise<Status> {
  const format = captureFormat(out);
  const known = scenarios.find(({ name }) => name === scenario);
  if (!known) throw new CallError(`there is no scenario "${scenario}". Scenarios:\n${scenarioList()}`);
  const free = await checkCaptureOutput(out, { force });
  const truthFree = truthFile === undefined || !free.ok ? free : await checkOutputFiles([truthFile], { force });
  if (!truthFree.ok) return reportWritten(truthFree, out);
  const { capture, truth } = simulateVisit(known.name, seed);
  const written = await writeCapture(format === 'csv' ? sweepsOnly(capture) : capture, out, { force });
  const result =
    written.ok && truthFile !== undefined
      ? await writeAtomically(truthFile, `${JSON.stringify(truth, null, 2)}\n`)
      : written;
  return reportWritten(result, out);
}
