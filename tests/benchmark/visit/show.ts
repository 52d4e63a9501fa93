// `node tests/benchmark/visit/show.ts KIND SEED > file.csv`: one visit to look at, a row a second, its events as comments.
import { drawVisit, visitKinds } from './visit.ts';

const [kind = '', seed = '1'] = process.argv.slice(2);
if (!visitKinds.includes(kind)) {
  process.stderr.write(`Kinds: ${visitKinds.join('; ')}\n`);
  process.exit(2);
}
const { capture, truth, durationS, pressureUnit, signalUnit } = drawVisit(kind, Number(seed));
const { segments, eitherWay, pulses, ...rest } = truth;
const lines = [
  `# ${kind}, seed ${seed}: ${segments.length} segments, ${eitherWay.length} spans either way, ${pulses.length} pulses`,
];
for (const [name, value] of Object.entries({
  setup: capture.setup,
  marks: capture.marks,
  typed: capture.trials,
  ...rest,
}))
  lines.push(
    `# ${name}: ${JSON.stringify(value, (_, each) => (typeof each === 'number' ? Number(each.toFixed(3)) : each))}`,
  );
lines.push(`elapsed_s,pilot_pressure_${pressureUnit},flame_signal_${signalUnit},gas,flame,regulator,phase`);
for (let t = 0; t < durationS; t += 1) {
  const last = (role: string) =>
    capture.readings.findLast((each) => each.role === role && each.elapsedS >= t && each.elapsedS < t + 1);
  const at = segments.findLast(({ from_s }) => from_s <= t + 0.5)!;
  lines.push(
    [t, last('pilot_pressure')?.raw, last('flame_signal')?.raw, at.gas, at.flame, at.regulator, at.phase].join(','),
  );
}
process.stdout.write(`${lines.join('\n')}\n`);
