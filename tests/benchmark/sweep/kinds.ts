import type { Capture } from '../../../shared/model/capture.ts';
import { createRandom, type Random } from '../../../shared/numerics/random.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { TrueCurve } from './burner.ts';
import { captureOf, type MeterRole, type Outage, simulateSweep, stepS, type SweepFacts } from './simulate.ts';
import { type Gap, withGaps, corruptReadings } from './corrupt-readings.ts';
import { type SweepTruth, truthOf } from './truth.ts';

/** The facts of one sweep while they are drawn. */
interface Draft {
  curve: TrueCurve;
  facts: SweepFacts;
  setup: Setup;
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
  gaps: Gap[];
  /** One reading in so many is corrupted. */
  corruptEvery: number;
}

const meters: readonly MeterRole[] = ['pilot_pressure', 'flame_signal'];

/** What makes each kind: one change to the plain sweep, which has two shoulders and is turned down, up and back. */
const changes = {
  'two shoulders': () => undefined,
  stairs: ({ facts }) => (facts.stairs = true),
  'low end only': ({ facts, between }) => (facts.tested = [facts.tested[0], between(2.8, 3.1)]),
  'high end only': ({ facts, between }) => (facts.tested = [between(2, 2.3), facts.tested[1]]),
  'neither end': ({ facts, between }) => (facts.tested = [between(2, 2.2), between(2.8, 3.1)]),
  clipped: ({ curve, between }) => (curve.clip = curve.amplitude * between(0.7, 0.9)),
  'flame lost': ({ curve, between }) => (curve.lossBelow = curve.low + between(0.8, 3.4) * curve.lowWidth),
  noisy: ({ facts, between }) => Object.assign(facts, { white: between(0.04, 0.08), flicker: between(0.2, 0.35) }),
  fast: ({ facts, between }) => (facts.speed = between(0.12, 0.2)),
  slow: ({ facts, between }) => (facts.speed = between(0.015, 0.02)),
  'minimum signal': ({ setup }) =>
    Object.assign(setup, { minimumSignal: { value: 1.25, unit: 'V' }, signalDropFraction: 0.9 }),
  'self-check': ({ facts, between, oneOf }) => {
    facts.selfCheck = { periodS: between(8, 12), widthS: 0.5 };
    facts.signalHz = oneOf([5, 10]);
  },
  'coarse digits': ({ facts }) => (facts.digits = { pressure: 0.01, signal: 0.05 }),
  'uneven shoulders': ({ curve, between }) => {
    // Above 1 the foot is drawn out, below 1 it is cut short.
    curve.lowRound = Math.exp(between(-0.9, 0.9));
    curve.highRound = Math.exp(between(-0.9, 0.9));
  },
  'slow sag': ({ curve, between, oneOf }) => {
    const side = oneOf([-1, 1]);
    const knee = (curve.low + curve.high) / 2 - side * between(0, 0.5);
    curve.sag = { knee, reach: (side < 0 ? curve.low : curve.high) - knee, depth: between(0.08, 0.3) };
  },
  'spikes and junk': (draft) => (draft.corruptEvery = draft.between(40, 120)),
  gaps: (draft) => {
    draft.gaps = Array.from({ length: draft.oneOf([1, 2, 3]) }, () => ({
      role: draft.oneOf(meters),
      fromShare: draft.between(0.05, 0.9),
      seconds: draft.between(2.5, 8),
    }));
  },
  'changing rates': ({ facts, between, oneOf }) => {
    facts.rateChanges = meters.flatMap((role) => [
      { role, afterShare: between(0.2, 0.45), hz: oneOf([1, 2, 5, 20]) },
      { role, afterShare: between(0.55, 0.8), hz: oneOf([1, 2, 5, 20]) },
    ]);
  },
  'long dwells': ({ facts, between, oneOf }) => {
    facts.rests = Array.from({ length: 3 }, () => ({
      leg: oneOf([0, 1, 2]),
      pressure: between(facts.tested[0], facts.tested[1]),
      seconds: between(20, 60),
    }));
    // A leg from or to the middle passes only half of the pressures.
    const middle = (facts.tested[0] + facts.tested[1]) / 2;
    facts.rests = facts.rests.filter(({ leg, pressure }) => leg === 1 || (leg === 0) === pressure < middle);
  },
  'down only': ({ facts }) => (facts.way = 'down'),
  'up only': ({ facts }) => (facts.way = 'up'),
  hump: ({ curve }) => (curve.form = 'hump'),
  'power law': ({ curve, facts, between }) => {
    Object.assign(curve, { form: 'power-high', highWidth: between(0.2, 0.5) });
    facts.tested[1] = curve.high + 0.2;
  },
  'stops at the ends': ({ curve, facts, between }) =>
    (facts.tested = [curve.low + between(1, 1.8) * curve.lowWidth, curve.high - between(1, 1.8) * curve.highWidth]),
} satisfies Record<string, (draft: Draft) => unknown>;

export type Kind = keyof typeof changes;
/** Names of the kinds of sweeps, in the order of their random draws. */
export const kinds = Object.keys(changes) as Kind[];

/** A simulated sweep with everything that is known of it; the analysis gets only `capture`. */
export interface DrawnSweep {
  capture: Capture;
  truth: SweepTruth & { lagS: number };
  facts: SweepFacts;
  outages: Outage[];
  durationS: number;
  /** The readings without the corruptions. */
  uncorrupted: Reading[];
}

/** A sweep of one kind: burner, meters and motion of the regulator drawn from the seed. */
export function drawSweep(kind: Kind, seed: number): DrawnSweep {
  const number = kinds.indexOf(kind);
  const random = createRandom((seed * 7919 + number * 104_729 + 11) >>> 0);
  const draft = plainSweep(random);
  changes[kind](draft);
  const { facts, setup } = draft;
  const simulated = simulateSweep(facts, (seed * 31 + number) >>> 0);
  const { durationS, outages } = simulated;
  const uncorrupted = withGaps(simulated.readings, draft.gaps, durationS);
  const readings = corruptReadings(uncorrupted, draft.corruptEvery, random);
  return {
    capture: captureOf(readings, setup),
    truth: {
      ...truthOf(facts.curve, facts.tested, setup),
      lagS: facts.deadS + facts.lagS - facts.manometerLagS,
    },
    facts,
    outages,
    durationS,
    uncorrupted,
  };
}

function plainSweep(random: Random): Draft {
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const oneOf = <T>(values: readonly T[]): T => values[Math.floor(values.length * random.uniform())]!;
  const curve: TrueCurve = {
    dark: between(0, 0.05),
    amplitude: between(3.6, 5),
    low: between(0.9, 1.5),
    lowWidth: between(0.04, 0.13),
    high: between(3.7, 4.6),
    highWidth: between(0.05, 0.18),
    clip: 10,
    lossBelow: -1,
    lowRound: 1,
    highRound: 1,
  };
  const facts: SweepFacts = {
    curve,
    tested: [curve.low - 0.45, curve.high + 0.6],
    speed: between(0.035, 0.08),
    stairs: false,
    deadS: Math.round(between(0.05, 0.5) / stepS) * stepS,
    lagS: between(0.3, 1.2),
    manometerLagS: between(0.05, 0.2),
    white: between(0.005, 0.02),
    flicker: between(0.03, 0.12),
    manometerHz: oneOf([5, 10]),
    signalHz: oneOf([2, 4, 5, 10]),
    digits: { pressure: 0.001, signal: 0.001 },
    relight: 0.03,
  };
  return { curve, facts, setup: { signalDropFraction: 0.1 }, between, oneOf, gaps: [], corruptEvery: Infinity };
}
