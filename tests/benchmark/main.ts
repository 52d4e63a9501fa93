// `npm run bench`: measures what the analysis promises. A table for people, or one line of JSON.
import { cpus } from 'node:os';
import { Command, InvalidArgumentError } from 'commander';
import { lossKinds } from './losses/kinds.ts';
import type { Figure, SectionResult } from './section.ts';
import { kinds as meterKinds } from './meters/kinds/kinds.ts';
import { sections } from './sections.ts';
import { kinds } from './sweep/kinds.ts';
import { table } from './table.ts';
import { visitKinds } from './visit/visit.ts';
import { wildKinds } from './wild/kinds.ts';

const wholeNumber = (text: string): number => {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1) throw new InvalidArgumentError('must be a whole number from 1 on.');
  return value;
};

/** A list of names, separated by semicolons or, where none of them has one of its own, by commas; each must be known. */
const someOf = (known: readonly string[]) => (text: string) => {
  const separator = text.includes(';') || known.includes(text) ? ';' : ',';
  const names = text.split(separator).map((name) => name.trim());
  const unknown = names.find((name) => !known.includes(name));
  if (unknown !== undefined) throw new InvalidArgumentError(`${unknown} is none of: ${known.join(', ')}.`);
  return names;
};

const names = sections.map((section) => section.name);

interface Options {
  json?: boolean;
  only?: string[];
  sweeps?: number;
  seed: number;
  kinds?: string[];
  hours?: number;
}

const options = new Command('npm run bench --')
  .description('Measures what the analysis promises: the figures at the end say what was wanted and what was found.')
  .option('--json', 'one line of JSON')
  .option('--only <names>', `sections to run, of: ${names.join(', ')}`, someOf(names))
  .option('--sweeps <n>', 'simulated sweeps or pairs of each kind', wholeNumber)
  .option('--seed <n>', 'first seed', wholeNumber, 1)
  .option(
    '--kinds <names>',
    `kinds of sweeps, of: ${kinds.join(', ')}; with losses: ${lossKinds.join('; ')}; of visits: ${visitKinds.join('; ')}; of meters: ${meterKinds.map(({ name }) => name).join('; ')}; in the wild: ${wildKinds.join('; ')}`,
    someOf([...kinds, ...lossKinds, ...visitKinds, ...meterKinds.map(({ name }) => name), ...wildKinds]),
  )
  .option('--hours <n>', 'simulated hours of the long recording (8: a working day)', wholeNumber)
  .exitOverride((end) => process.exit(end.exitCode === 0 ? 0 : 2))
  .parse()
  .opts<Options>();

const print = (lines: string[]) => process.stdout.write(`${lines.join('\n')}\n`);

/** Progress on one line of a terminal; none in a log file. */
const progress = (text: string) => {
  if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
};

const figuresText = (figures: Figure[]) => {
  const met = (figure: Figure) => (figure.met === undefined ? 'not measured' : figure.met ? 'yes' : 'NO');
  const rows = table([['figure', 'wanted', 'met'], ...figures.map((each) => [each.what, each.wanted, met(each)])]);
  return rows.map((line, i) => `${line}  ${figures[i - 1]?.found ?? 'found'}`);
};

const found: Record<string, SectionResult> = {};
for (const section of sections.filter(({ name }) => !options.only || options.only.includes(name))) {
  const started = performance.now();
  const result = await section.run({
    sweeps: options.sweeps,
    seed: options.seed,
    kinds: options.kinds,
    hours: options.hours,
    progress: (text) => progress(`${section.name}: ${text}`),
  });
  progress('');
  found[section.name] = result;
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  if (!options.json) print([`${section.title} (${seconds} s)`, '', ...result.lines, '']);
}

const figures = Object.values(found).flatMap((result) => result.figures);
if (options.json) {
  const data = Object.fromEntries(Object.entries(found).map(([name, result]) => [name, result.data]));
  const machine = { node: process.version, processor: cpus()[0]?.model ?? 'unknown', threads: cpus().length };
  print([JSON.stringify({ schema: 'pilot-bench/bench@1', machine, figures, ...data })]);
} else print(figuresText(figures));
