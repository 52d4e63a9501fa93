import type { Scenario } from './scenario.ts';

const manometer: Scenario['manometer'] = {
  linesPerS: 10,
  clockPpm: 180,
  jitterS: 0.02,
  lagS: 0.12,
  noise: 0.0015,
  format: 'plain',
  overloadAt: 20,
  rangingFraction: 0,
};

const multimeter: Scenario['multimeter'] = {
  linesPerS: 5,
  clockPpm: -240,
  jitterS: 0.03,
  lagS: 0.1,
  noise: 0.002,
  format: 'volts',
  overloadAt: 60,
  rangingFraction: 0.002,
};

/** A good pilot on a good burner; every other scenario lists only what differs. */
const clean: Scenario = {
  name: 'clean',
  description: 'A good pilot with a shoulder on both sides, so the whole window can be seen.',
  burner: {
    site: 'Alder Lane Laundry',
    name: 'Steam boiler 1, burner',
    burnerModel: 'Simulated forced-draft burner, 7 MMBtu/h',
    serialNumber: 'X-0001',
    pilotModel: 'Simulated nozzle-mix pilot',
    flameDetector: 'Ultraviolet, 0 to 5 V test jacks',
    gas: 'Natural gas',
  },
  setup: {
    minimumSignal: { value: 1.25, unit: 'V' },
    signalDropFraction: 0.1,
    makerPressureRange: { low: 0.8, high: 5, unit: 'inH2O' },
    fanOnlyPressure: { value: 0.2, unit: 'inH2O' },
    pilotTrialSeconds: 10,
    pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
    signalAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'V' },
    setPointRule: 'equal-pressure',
    confidence: 0.95,
    seed: 1,
    purgeSeconds: 60,
  },
  startedAt: '2026-03-10T09:05:00.000Z',
  regulator: {
    turnsMax: 8,
    springLow: 0.6,
    springHigh: 5.9,
    hysteresis: 0.08,
    droop: 0.05,
    lockUp: 0.35,
    settleS: 0.35,
    tapS: 0.1,
  },
  startTurns: 3,
  fanOnly: 0.2,
  supplyWander: 0.003,
  curve: {
    dark: 0.02,
    amplitude: 4.6,
    low: { at: 1, width: 0.075 },
    high: { at: 4.2, width: 0.13 },
    ceiling: 10,
    lossBelow: 0.65,
  },
  lightOff: { low: { at: 0.95, width: 0.05 }, high: { at: 4.3, width: 0.1 }, floodPerS: 0.02 },
  detector: {
    deadS: 0.15,
    lagS: 0.8,
    sparkPickUp: 0.05,
    flickerShoulder: 0.12,
    flickerInside: 0.02,
    flickerS: 0.3,
  },
  manometer,
  multimeter,
  plan: {
    lowest: 0.85,
    highest: 5,
    turnBackBelow: 0.35,
    trials: [
      { pressure: 2.5, sparkDelayS: 0 },
      { pressure: 2.5, sparkDelayS: 5 },
      { pressure: 1.3, sparkDelayS: 0 },
      { pressure: 1.3, sparkDelayS: 5 },
      { pressure: 3.7, sparkDelayS: 0 },
      { pressure: 3.7, sparkDelayS: 5 },
      { pressure: 2.5, sparkDelayS: 0 },
      { pressure: 2.5, sparkDelayS: 5 },
    ],
    asLeft: 2.5,
  },
};

const middleTrials = (...pressures: number[]): Scenario['plan']['trials'] =>
  pressures.flatMap((pressure) => [
    { pressure, sparkDelayS: 0 },
    { pressure, sparkDelayS: 5 },
  ]);

const lowEndOnly: Scenario = {
  ...clean,
  name: 'low-end-only',
  description: 'The signal falls off at the low end only: nothing limits the window up to the highest pressure tested.',
  burner: { ...clean.burner, site: 'Foxglove Bakery', name: 'Tunnel oven, zone 2', serialNumber: 'X-0002' },
  startedAt: '2026-03-11T07:40:00.000Z',
  regulator: { ...clean.regulator, springHigh: 7.5 },
  startTurns: 2.5,
  curve: { ...clean.curve, low: { at: 1.3, width: 0.11 }, high: { at: 30, width: 1 }, amplitude: 4.1 },
  lightOff: { ...clean.lightOff, low: { at: 1.15, width: 0.05 }, high: { at: 20, width: 1 } },
  multimeter: { ...multimeter, format: 'exponent' },
  plan: { ...clean.plan, lowest: 1, highest: 5, trials: middleTrials(1.7, 3.2), asLeft: 3.2 },
};

const topNeverReached: Scenario = {
  ...clean,
  name: 'top-never-reached',
  description:
    'The regulator runs out of travel before the pilot does: the top of the window lies beyond the end of the screw.',
  burner: { ...clean.burner, site: 'Quarry Street School', name: 'Hot water boiler 2', serialNumber: 'X-0003' },
  startedAt: '2026-03-12T13:15:00.000Z',
  regulator: { ...clean.regulator, springHigh: 3.2 },
  startTurns: 4,
  curve: { ...clean.curve, low: { at: 1.1, width: 0.07 } },
  lightOff: { ...clean.lightOff, low: { at: 1.02, width: 0.05 } },
  plan: { ...clean.plan, lowest: 0.9, highest: 10, trials: middleTrials(1.4, 2.2, 3), asLeft: 2.2 },
};

const flameLost: Scenario = {
  ...clean,
  name: 'flame-lost',
  description: 'Turned down, the flame holds full signal and then goes out all at once: a cliff instead of a shoulder.',
  burner: { ...clean.burner, site: 'Mill Race Dye Works', name: 'Air heater 4', serialNumber: 'X-0004' },
  startedAt: '2026-03-13T10:20:00.000Z',
  curve: { ...clean.curve, low: { at: 0.9, width: 0.06 }, lossBelow: 1.35 },
  lightOff: { ...clean.lightOff, low: { at: 1.45, width: 0.04 } },
  plan: { ...clean.plan, lowest: 0.9, trials: middleTrials(1.7, 2.7, 3.7), asLeft: 2.7 },
};

const saturated: Scenario = {
  ...clean,
  name: 'saturated',
  description:
    'The amplifier is at its maximum over most of the window, so the plateau gives no hint of where the window ends.',
  burner: { ...clean.burner, site: 'Hartwell Brewery', name: 'Wort boiler', serialNumber: 'X-0005' },
  startedAt: '2026-03-16T08:30:00.000Z',
  curve: { ...clean.curve, amplitude: 7.5, ceiling: 5, low: { at: 1.1, width: 0.12 }, high: { at: 4.1, width: 0.16 } },
  detector: { ...clean.detector, flickerInside: 0.05, flickerShoulder: 0.15 },
  plan: { ...clean.plan, trials: middleTrials(1.5, 2.6, 3.7), asLeft: 2.6 },
};

const flooded: Scenario = {
  ...clean,
  name: 'flooded',
  description:
    'The signal stays perfect up to high pressure, but with a delayed spark the pilot no longer lights there.',
  burner: { ...clean.burner, site: 'Northgate Swim Center', name: 'Boiler 3, burner', serialNumber: 'X-0006' },
  startedAt: '2026-03-17T09:00:00.000Z',
  curve: { ...clean.curve, high: { at: 4.6, width: 0.1 } },
  lightOff: { ...clean.lightOff, high: { at: 3.75, width: 0.03 }, floodPerS: 0.12 },
  plan: {
    ...clean.plan,
    trials: [
      ...middleTrials(2.4),
      { pressure: 3.4, sparkDelayS: 0 },
      { pressure: 3.4, sparkDelayS: 5 },
      { pressure: 4, sparkDelayS: 0 },
      { pressure: 2.9, sparkDelayS: 5 },
      { pressure: 3, sparkDelayS: 0 },
      { pressure: 1.4, sparkDelayS: 0 },
      { pressure: 1.4, sparkDelayS: 5 },
    ],
    asLeft: 2,
  },
};

const selfCheck: Scenario = {
  ...clean,
  name: 'self-check',
  description:
    'The detector closes its own shutter every 12 s: the signal drops for a fraction of a second while the flame stays steady.',
  burner: {
    ...clean.burner,
    site: 'Harbor Cold Storage',
    name: 'Steam boiler 2, burner',
    serialNumber: 'X-0007',
    flameDetector: 'Ultraviolet with shutter, 0 to 5 V test jacks',
  },
  startedAt: '2026-03-18T11:10:00.000Z',
  detector: { ...clean.detector, lagS: 0.35, selfCheck: { everyS: 12, forS: 0.5 } },
  plan: { ...clean.plan, trials: middleTrials(1.4, 2.5, 3.6), asLeft: 2.5 },
};

const noisy: Scenario = {
  ...clean,
  name: 'noisy',
  description: 'An unsteady flame and a slow detector: both ends are there, but cannot be located as sharply.',
  burner: { ...clean.burner, site: 'Bellfield Greenhouses', name: 'Boiler 1, burner', serialNumber: 'X-0008' },
  startedAt: '2026-03-19T15:45:00.000Z',
  supplyWander: 0.008,
  curve: { ...clean.curve, low: { at: 1.1, width: 0.12 }, high: { at: 4, width: 0.2 }, amplitude: 3.4 },
  detector: { ...clean.detector, lagS: 1.4, flickerShoulder: 0.7, flickerInside: 0.12, flickerS: 0.5 },
  manometer: { ...manometer, linesPerS: 4, noise: 0.006 },
  multimeter: { ...multimeter, linesPerS: 3, noise: 0.02, rangingFraction: 0.01 },
  plan: { ...clean.plan, trials: middleTrials(1.6, 2.5, 3.4), asLeft: 2.5 },
};

const nextYear: Scenario = {
  ...clean,
  name: 'next-year',
  description: 'The good pilot a year later: with a dirty detector lens and a worn electrode, the window is narrower.',
  startedAt: '2027-03-09T10:30:00.000Z',
  curve: { ...clean.curve, amplitude: 3.9, low: { at: 1.22, width: 0.09 }, high: { at: 3.95, width: 0.15 } },
  lightOff: { low: { at: 1.15, width: 0.05 }, high: { at: 3.9, width: 0.1 }, floodPerS: 0.04 },
  plan: { ...clean.plan, lowest: 0.9, trials: middleTrials(1.6, 2.5, 3.3), asLeft: 2.5 },
};

/** The simulated burners of the practice bench, the good one first. */
export const scenarios: readonly Scenario[] = [
  clean,
  lowEndOnly,
  topNeverReached,
  flameLost,
  saturated,
  flooded,
  selfCheck,
  noisy,
  nextYear,
];

export const findScenario = (name: string): Scenario | undefined =>
  scenarios.find((scenario) => scenario.name === name);
