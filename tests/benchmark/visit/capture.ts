import type { Capture, Mark, Trial } from '../../../shared/model/capture.ts';
import type { Random } from '../../../shared/numerics/random.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Draft } from './draft/draft.ts';
import { pressureFactor, readMeters } from './readings.ts';
import { type Simulated, indexOf, timeOf } from './simulated.ts';

/** What is on record of a visit: readings, and what the technician pressed, typed and entered. */
export const captureOf = (draft: Draft, simulated: Simulated, id: string, random: Random): Capture => ({
  id,
  meters: [],
  setup: setupOf(draft, simulated, random),
  readings: readMeters(simulated, random),
  lines: [],
  marks: marksOf(draft, simulated),
  trials: trialsOf(simulated, random),
  notes: [],
});

function setupOf({ entered, setup, between }: Draft, simulated: Simulated, random: Random): Setup {
  const { facts, instruments, minimum } = simulated;
  const factor = pressureFactor(simulated);
  const unit = instruments.pressureUnit;
  // Read off the display, to two good digits.
  const rounded = (p: number) => Number((factor * p).toPrecision(3));
  const left = simulated.notes.find(({ kind }) => kind === 'as-left');
  const inside = (facts.curve.high - facts.curve.low) * between(0.05, 0.2);
  return {
    ...(entered.fanOnly && { fanOnlyPressure: { value: rounded(facts.fan.only + 0.003 * random.normal()), unit } }),
    ...(minimum !== undefined && {
      minimumSignal: { value: minimum * instruments.amplitude, unit: instruments.signalUnit },
    }),
    ...(entered.trialSeconds && { pilotTrialSeconds: facts.control.trialS }),
    ...(entered.makerRange && {
      makerPressureRange: { low: rounded(facts.curve.low + inside), high: rounded(facts.curve.high - inside), unit },
    }),
    ...(entered.asLeft &&
      left && { asLeftPressure: { value: rounded(simulated.trace.stand[indexOf(left.atS)]!), unit } }),
    pressureAccuracy: { percentOfReading: 0.5, absolute: rounded(Math.max(0.01, instruments.manometer.digit)), unit },
    ...setup,
  };
}

/** Buttons are pressed when a hand is free: never before the recording begins, never after it ended. */
function marksOf({ entered }: Draft, { notes, airConfirmed, n }: Simulated): Mark[] {
  const pressed: Mark[] = entered.marks ? notes.map(({ atS, kind }) => ({ elapsedS: atS, kind, text: '' })) : [];
  const air = airConfirmed.flatMap(([from, to]): Mark[] => [
    { elapsedS: from, kind: 'air-confirmed', text: '' },
    { elapsedS: to, kind: 'air-stopped', text: '' },
  ]);
  return [...pressed, ...air]
    .filter(({ elapsedS }) => elapsedS >= 0 && elapsedS < timeOf(n))
    .sort((a, b) => a.elapsedS - b.elapsedS);
}

/** Trials as typed: pressure from the display, seconds by counting. */
function trialsOf(simulated: Simulated, random: Random): Trial[] {
  const { attempts, trace, instruments, trialS, n } = simulated;
  const factor = pressureFactor(simulated);
  return attempts
    .filter((attempt) => attempt.typed && attempt.gasS > 0)
    .map(({ gasS, sparkDelayS, withTime }): Trial => {
      const from = indexOf(gasS);
      const over = Math.min(n, from + indexOf(trialS));
      let lit = -1;
      for (let i = from; i < over && lit < 0; i += 1) if (trace.flame[i]) lit = i;
      const shown = trace.stand[Math.min(over, n - 1)]!;
      return {
        pressure: Number((factor * shown).toPrecision(3)),
        unit: instruments.pressureUnit,
        sparkDelayS,
        lit: lit >= 0,
        ...(lit >= 0 &&
          withTime && {
            timeToProveS: Math.round(10 * Math.max(0.1, timeOf(lit - from) + 0.5 + 0.3 * random.uniform())) / 10,
          }),
        ...(withTime && { elapsedS: Math.max(0, Math.round(gasS + random.normal())) }),
      };
    });
}
