// Regenerates the captures in sample-captures/, byte for byte: `node build/make-samples.ts [FOLDER]`.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writeSetup } from '../shared/files/setup-file.ts';
import { writeTrialsCsv } from '../shared/files/trials-csv.ts';
import { writeWideCsv } from '../shared/files/wide-csv.ts';
import { scenarios } from '../shared/practice/scenarios.ts';
import { simulateVisit, sweepsOnly } from '../shared/practice/simulate.ts';

const folder = process.argv[2] ?? join(import.meta.dirname, '..', 'sample-captures');
mkdirSync(folder, { recursive: true });
for (const { name } of scenarios) {
  const { capture } = simulateVisit(name, 1);
  writeFileSync(join(folder, `${name}.csv`), writeWideCsv(sweepsOnly(capture)));
  writeFileSync(join(folder, `${name}.setup.json`), writeSetup(capture.setup));
  writeFileSync(join(folder, `${name}.trials.csv`), writeTrialsCsv(capture.trials));
}
