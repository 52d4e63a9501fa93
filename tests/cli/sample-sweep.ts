import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What is true of the invented burner below: where the signal reaches nine tenths of its plateau of 4.6 V. */
export const truth = { low: 1.2, high: 3.9, plateau: 4.6 };

// L(x) = 0.9 at x = ln 9, so a shoulder of width w that is centred ln 9 widths outside an end passes 0.9 there.
const ln9 = Math.log(9);
const logistic = (x: number) => 1 / (1 + Math.exp(-x));
export const steadySignal = (p: number): number =>
  truth.plateau * logistic((p - (truth.low - 0.1 * ln9)) / 0.1) * logistic((truth.high + 0.12 * ln9 - p) / 0.12);

/** A repeatable noise in [-1, 1]: Park and Miller's minimal standard generator. */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return (2 * state) / 2_147_483_647 - 1;
  };
}

/** A slow sweep of four minutes up and down, two meters at five readings in two seconds each; `shift` moves both ends. */
export function sweepCsv({ seed = 7, shift = 0 } = {}): string {
  const random = noise(seed);
  const rows = ['elapsed_s,pilot_pressure_inH2O,flame_signal_V'];
  for (let i = 0; i < 600; i += 1) {
    const t = i * 0.4;
    const p = 0.5 + 4.2 * (1 - Math.abs(1 - t / 120));
    rows.push(`${t.toFixed(2)},${(p + 0.005 * random()).toFixed(3)},`);
    rows.push(
      `${(t + 0.2).toFixed(2)},,${(steadySignal(0.5 + 4.2 * (1 - Math.abs(1 - (t + 0.2) / 120)) - shift) + 0.03 * random()).toFixed(3)}`,
    );
  }
  return `${rows.join('\n')}\n`;
}

export const setup = {
  minimumSignal: { value: 1.25, unit: 'V' },
  makerPressureRange: { low: 1, high: 4.5, unit: 'inH2O' },
  asLeftPressure: { value: 2.5, unit: 'inH2O' },
  fanOnlyPressure: { value: 0.1, unit: 'inH2O' },
};

export const trialsCsv =
  'pressure_inH2O,spark_delay_s,lit\n1.5,0,yes\n2.0,0,yes\n2.5,5,yes\n3.0,0,yes\n3.5,5,yes\n3.8,5,no\n';

/** NAME.csv with its setup and trials in `folder`. */
export function writeSample(folder: string, name: string, options: { seed?: number; shift?: number } = {}): string {
  writeFileSync(join(folder, `${name}.csv`), sweepCsv(options));
  writeFileSync(join(folder, `${name}.setup.json`), JSON.stringify(setup));
  writeFileSync(join(folder, `${name}.trials.csv`), trialsCsv);
  return `${name}.csv`;
}
