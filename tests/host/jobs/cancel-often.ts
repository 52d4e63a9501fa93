import { createWorkerPool } from '../../../electron/host/jobs/worker-pool.ts';

// Begins jobs on the store in the folder given and gives each of them up a little later than the one before, through their whole start.
const folder = process.argv[2]!;
const pool = createWorkerPool(folder, () => {});
for (let ms = 0; ms <= 600; ms += 12) {
  const cancel = new AbortController();
  setTimeout(() => cancel.abort(), ms);
  await pool.run({ kind: 'analyze', capture: process.argv[3]!, setup: {} }, cancel.signal);
}
await pool.stop();
process.stdout.write('alive\n');
