import type { Reading } from '../../../../shared/model/reading.ts';
import { longestPulseS } from '../burner/facts.ts';
import { pressureFactor } from '../readings.ts';
import { type Simulated, runsOf, timeOf } from '../simulated.ts';
import type { Ends, Segment, Span, VisitTruth } from '../types.ts';
import { earliestDetection } from './earliest-detection.ts';
import { eitherWayOf } from './either-way.ts';
import { leaksOf, lossesOf, type Opening, openingsOf, pulsesOf, trialsOf } from './events.ts';
import { flameOf, gasOf, type Labels, phaseOf, regulatorOf } from './states.ts';
import { withUnknown } from './unknown.ts';
import { windowOf } from './window.ts';

/** The words of every step as if no meter had failed. */
export function labelsOf(simulated: Simulated): { labels: Labels; openings: Opening[] } {
  const openings = openingsOf(simulated);
  const gas = gasOf(simulated);
  const flame = flameOf(simulated, gas, openings);
  return {
    labels: { gas, flame, regulator: regulatorOf(simulated, gas), phase: phaseOf(simulated, gas, flame, openings) },
    openings,
  };
}

export function segmentsOf({ gas, flame, regulator, phase }: Labels): Segment[] {
  const segments: Segment[] = [];
  for (let i = 0; i < gas.length; i += 1) {
    const last = segments.at(-1);
    const same = last?.gas === gas[i] && last?.flame === flame[i] && last?.regulator === regulator[i];
    if (last && same && last.phase === phase[i]) last.to_s = timeOf(i + 1);
    else
      segments.push({
        from_s: timeOf(i),
        to_s: timeOf(i + 1),
        gas: gas[i]!,
        flame: flame[i]!,
        regulator: regulator[i]!,
        phase: phase[i]!,
      });
  }
  return segments;
}

/** The whole truth, in the capture's units. `readings`: those of the signal meter are what a loss can be seen from. */
export function truthOf(simulated: Simulated, readings: Reading[]): VisitTruth {
  const { facts, instruments, faults, airConfirmed } = simulated;
  const { labels: seen, openings } = labelsOf(simulated);
  const losses = lossesOf(simulated, openings).map((loss) => {
    const at = earliestDetection(simulated, loss, readings, longestPulseS);
    const toldShutter = earliestDetection(simulated, loss, readings, facts.detector.shutter?.closedS);
    return {
      ...loss,
      ...(at !== undefined && { earliestDetectable_s: at }),
      ...(toldShutter !== undefined && { earliestToldShutter_s: toldShutter }),
    };
  });
  const { labels, eitherWay } = withUnknown(simulated, seen);
  const segments = segmentsOf(labels);
  const came = (side: 'low' | 'high') => losses.some((loss) => loss.side === side && loss.relitBy === 'itself');
  const { window, ends } = windowOf(simulated, { low: came('low'), high: came('high') });
  const factor = pressureFactor(simulated);
  const inUnit = ({ low, high }: Ends): Ends => ({
    ...(low !== undefined && { low: low * factor }),
    ...(high !== undefined && { high: high * factor }),
  });
  const { amplitude } = instruments;
  return {
    segments,
    eitherWay: [...eitherWayOf(simulated, seen, openings, losses), ...eitherWay],
    window: inUnit(window),
    ends: {
      signal: inUnit(ends.signal),
      lost: inUnit(ends.lost),
      returned: inUnit(ends.returned),
      lightOff: inUnit(ends.lightOff),
    },
    tested: inUnit({ low: simulated.tested[0], high: simulated.tested[1] }),
    requiredSignal: simulated.required * amplitude,
    plateau: simulated.plateau * amplitude,
    fanOnly: facts.fan.only * factor,
    dark: facts.detector.dark * amplitude,
    losses: losses.map((loss) => ({
      ...loss,
      pressure: loss.pressure * factor,
      ...(loss.relitPressure !== undefined && { relitPressure: loss.relitPressure * factor }),
    })),
    trials: trialsOf(simulated, openings).map((trial) => ({ ...trial, pressure: trial.pressure * factor })),
    purges: runsOf(labels.phase)
      .filter((run) => run.value === 'purge')
      .map(({ from, to }): Span => ({ from_s: timeOf(from), to_s: timeOf(to) })),
    pulses: pulsesOf(simulated),
    leaks: leaksOf(simulated).map((leak) => ({ ...leak, rest: leak.rest * factor })),
    meterFaults: faults.map((fault) => ({ ...fault, ...(fault.by !== undefined && { by: fault.by * factor }) })),
    airConfirmed: airConfirmed.map(([from_s, to_s]) => ({ from_s, to_s })),
  };
}
