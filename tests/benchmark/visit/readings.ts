import type { Random } from '../../../shared/numerics/random.ts';
import type { Reading, Role, Unit } from '../../../shared/model/reading.ts';
import { pascalsPer } from '../../../shared/model/units.ts';
import { stepS } from './burner/facts.ts';
import { type Meter, type Simulated, indexOf } from './simulated.ts';
import type { MeterFault } from './types.ts';

/** inH2O in the capture's unit. */
export const pressureFactor = ({ instruments }: Pick<Simulated, 'instruments'>): number =>
  pascalsPer.inH2O / pascalsPer[instruments.pressureUnit];

/** What the manometer's own first-order lag makes of the pressure. */
function lagged(values: readonly number[], lagS: number): number[] {
  const gain = stepS / (stepS + lagS);
  let shown = values[0]!;
  return values.map((value) => (shown += gain * (value - shown)));
}

/** Moments at which a meter sends: its own clock, jitter of arrival, milliseconds. */
function moments({ hz, clock, jitterS }: Meter, durationS: number, random: Random): number[] {
  const times: number[] = [];
  for (let t = random.uniform() / hz; t < durationS; t += (1 + clock) / hz)
    times.push(Math.round(1000 * Math.max(0, t + jitterS * Math.abs(random.normal()))) / 1000);
  return times;
}

/** Number and text as a display of that last digit shows them. */
function display(value: number, digit: number): { value: number; raw: string } {
  const places = Math.max(0, Math.ceil(-Math.log10(digit) - 1e-9));
  const raw = (Math.round(value / digit) * digit).toFixed(places);
  return { value: Number(raw), raw };
}

/** A last digit of 1, 2 or 5 times a power of ten, not above `digit`. */
export function tidyDigit(digit: number): number {
  const power = 10 ** Math.floor(Math.log10(digit) + 1e-9);
  const lead = digit / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

interface Channel {
  role: Role;
  unit: Unit;
  meter: Meter;
  /** Value and last digit in `unit`. */
  value: (i: number) => number;
  digit: number;
  faults: MeterFault[];
}

function readChannel({ role, unit, meter, value, digit, faults }: Channel, n: number, random: Random): Reading[] {
  const readings: Reading[] = [];
  let frozen: { value: number; raw: string } | undefined;
  for (const elapsedS of moments(meter, n * stepS, random)) {
    const fault = faults.find(
      ({ kind, from_s, to_s }) => kind !== 'zero-shift' && elapsedS >= from_s && elapsedS < to_s,
    );
    const zero = faults.reduce(
      (sum, each) => sum + (each.kind === 'zero-shift' && elapsedS >= each.from_s ? each.by! : 0),
      0,
    );
    const actual = value(Math.min(n - 1, indexOf(elapsedS)));
    const shown = display((fault?.kind === 'hose-off' ? 0 : actual) + zero, digit);
    if (fault?.kind === 'silent') continue;
    if (fault?.kind === 'overload')
      readings.push({ role, unit, elapsedS, value: Number.NaN, flag: 'overload', raw: 'OL' });
    else {
      if (fault?.kind !== 'frozen') frozen = shown;
      readings.push({ role, unit, elapsedS, ...(frozen ?? shown) });
    }
  }
  return readings;
}

/** All readings of a visit, in the order of their times. */
export function readMeters(simulated: Simulated, random: Random): Reading[] {
  const { trace, instruments, facts, faults, n } = simulated;
  const { manometer, signal, amplitude, pressureUnit, signalUnit } = instruments;
  const factor = pressureFactor(simulated);
  const pressure = lagged(trace.pressure, manometer.lagS);
  const faultsOf = (meter: MeterFault['meter']) => faults.filter((fault) => fault.meter === meter);
  const clip = facts.detector.clip;
  const channels: Channel[] = [
    {
      role: 'pilot_pressure',
      unit: pressureUnit,
      meter: manometer,
      value: (i) => factor * (pressure[i]! + manometer.noise * random.normal()),
      digit: tidyDigit(factor * manometer.digit * 1.0001),
      faults: faultsOf('pilot_pressure'),
    },
    {
      role: 'flame_signal',
      unit: signalUnit,
      meter: signal,
      value: (i) => amplitude * Math.min(clip, trace.signal[i]! + signal.noise * random.normal()),
      digit: tidyDigit(amplitude * signal.digit * 1.0001),
      faults: faultsOf('flame_signal'),
    },
  ];
  const extra = (role: Role, unit: Unit, value: (i: number) => number, digit: number) =>
    channels.push({ role, unit, meter: { ...manometer, hz: 5, jitterS: 0.005 }, value, digit, faults: [] });
  if (instruments.fan)
    extra(
      'fan_pressure',
      pressureUnit,
      (i) => factor * facts.fan.own * (trace.fanSpeed[i]! ** 2 + 0.01 * random.normal()),
      tidyDigit(factor * 0.01),
    );
  if (instruments.ignition) extra('ignition', 'on', (i) => (trace.spark[i]! ? 1 : 0), 1);
  if (instruments.valve) extra('pilot_valve', 'on', (i) => (trace.valve[i]! ? 1 : 0), 1);
  return channels.flatMap((channel) => readChannel(channel, n, random)).sort((a, b) => a.elapsedS - b.elapsedS);
}
