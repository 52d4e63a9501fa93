import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { testFolder } from '../helpers/test-folder.ts';
import { callCommand } from '../helpers/call-command.ts';
import { writeSample } from './sample-sweep.ts';

/** Two minutes at one pressure, lit all the time. */
const onePressure = ['elapsed_s,pilot_pressure_inH2O,flame_signal_V']
  .concat(
    Array.from(
      { length: 240 },
      (_, i) => `${i / 2},${(2.5 + 0.002 * (i % 3)).toFixed(3)},${(4.6 + 0.01 * (i % 4)).toFixed(2)}`,
    ),
  )
  .join('\n');

it('a visit without a sweep is reported by its trials, beside an earlier visit too, and refused without any', async () => {
  const folder = testFolder();
  writeFileSync(join(folder, 'visit.csv'), onePressure);
  const before = writeSample(folder, 'before');
  const report = (...more: string[]) =>
    callCommand(['report', 'visit.csv', '--out', 'visit.html', '--force', ...more], folder);
  expect((await report()).status).toBe(1);
  expect((await report('--before', before)).status).toBe(1);
  writeFileSync(join(folder, 'visit.trials.csv'), 'pressure_inH2O,spark_delay_s,lit\n2.5,0,yes\n');
  for (const more of [[], ['--before', before]]) {
    expect((await report(...more)).status).toBe(0);
    expect(readFileSync(join(folder, 'visit.html'), 'utf8')).toContain('Visit record without a window');
  }
});
