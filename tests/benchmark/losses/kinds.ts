import type { Capture, Trial } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { createRandom, type Random } from '../../../shared/numerics/random.ts';
import { type MeterFacts, readMeters } from './meters.ts';
import { type Course, type FlameFacts, type Hand, sweepByHand } from './pilot.ts';

/** One sweep while it is drawn. */
interface Draft {
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
  /** Where the steady signal of a burning flame falls to 90 % of its plateau. */
  ends: { low: number; high: number };
  flame: FlameFacts;
  hand: Hand;
  meters: MeterFacts;
  setup: Setup;
  trials: Trial[];
}

/** A pilot that blows off on one side; `gap`: how far from there it comes back; `in`: how far inside its signal end. */
function blowsOff(draft: Draft, side: 'low' | 'high', gap: number, inside: number): void {
  const way = side === 'low' ? 1 : -1;
  const lost = draft.ends[side] + way * inside;
  draft.flame[side] = { lost, back: lost + way * gap };
  // Turned past the loss by a little, as one who has seen the flame go.
  const past = lost - way * draft.between(0.04, 0.25);
  draft.hand.legs = draft.hand.legs.map((leg) => ((side === 'low' ? leg < lost : leg > lost) ? past : leg));
}

/** Trials that meet the plan, at a pressure. */
const provedAt = (pressure: number): Trial[] =>
  [0, 0, 0, 5].map((sparkDelayS) => ({ pressure, unit: 'inH2O', sparkDelayS, lit: true }));

/** As left between where the flame was lost and where it came back, with the light-off plan met there. */
function leftBetween(draft: Draft, side: 'low' | 'high'): void {
  const { lost, back } = draft.flame[side]!;
  const value = Number((lost + (back - lost) * draft.between(0.3, 0.7)).toFixed(2));
  draft.setup.asLeftPressure = { value, unit: 'inH2O' };
  draft.trials = provedAt(value);
}

const withDrafts = (draft: Draft, count: number, seconds: [number, number]) => {
  draft.flame.drafts = Array.from({ length: count }, () => ({
    atS: draft.between(12, 85),
    seconds: draft.between(...seconds),
  })).sort((a, b) => a.atS - b.atS);
};

const withShutter = (draft: Draft, periodS: [number, number], beforeLag: boolean) => {
  const period = draft.between(...periodS);
  draft.meters.shutter = {
    periodS: period,
    shutS: draft.between(0.2, 0.7),
    firstS: draft.between(0, period),
    beforeLag,
  };
};

/** What makes each kind. */
const changes = {
  'blow-off and return': (draft: Draft) => {
    blowsOff(draft, 'low', draft.between(0.1, 0.4), draft.between(-0.02, 0.25));
    leftBetween(draft, 'low');
  },
  'lift-off and return': (draft: Draft) => {
    blowsOff(draft, 'high', draft.between(0.1, 0.4), draft.between(-0.02, 0.3));
    leftBetween(draft, 'high');
  },
  'blow-off relit by a spark': (draft: Draft) => {
    blowsOff(draft, 'low', draft.between(0.1, 0.4), draft.between(-0.02, 0.25));
    draft.flame.relight = 'spark';
  },
  'blow-off with gas shut': (draft: Draft) => {
    blowsOff(draft, draft.oneOf(['low', 'high']), draft.between(0.1, 0.4), draft.between(-0.02, 0.25));
    draft.flame.relight = 'valve';
  },
  'cliff on the lean side': (draft: Draft) => blowsOff(draft, 'low', draft.between(0, 0.03), draft.between(0.05, 0.3)),
  'cliff on the rich side': (draft: Draft) => blowsOff(draft, 'high', draft.between(0, 0.03), draft.between(0.05, 0.3)),
  'lost for 3 to 12 s': (draft: Draft) => withDrafts(draft, 1, [3, 12]),
  'lost for 1 to 3 s': (draft: Draft) => withDrafts(draft, draft.oneOf([1, 1, 2, 3]), [1, 3]),
  'lost often': (draft: Draft) => withDrafts(draft, draft.oneOf([5, 6, 8]), [0.8, 4]),
  'drops out at the lean end': (draft: Draft) => {
    const from = draft.ends.low + draft.between(0.15, 0.5);
    draft.flame.dropOuts = { from, width: 0.2, perS: draft.between(0.15, 0.6), seconds: [0.3, 2.5] };
  },
  'shutter before the lag': (draft: Draft) => withShutter(draft, [2.5, 8], true),
  'shutter behind the lag': (draft: Draft) => withShutter(draft, [2.5, 8], false),
  'shutter seldom': (draft: Draft) => withShutter(draft, [8, 15], draft.oneOf([true, false])),
  'shutter and blow-off': (draft: Draft) => {
    withShutter(draft, [2.5, 8], true);
    blowsOff(draft, 'low', draft.between(0.1, 0.4), draft.between(0, 0.25));
  },
  'nothing lost': () => undefined,
};

export type LossKind = keyof typeof changes;
/** Names of the kinds. Each draws by its own name, so that a new one leaves the others alone. */
export const lossKinds = Object.keys(changes) as LossKind[];

/** A sweep with what is true of it; the analysis gets only `capture`. */
export interface LossSweep {
  capture: Capture;
  /** Signal interval by its definition, the flame that goes out at once taken for a signal that falls there. */
  signal: { low: number; high: number };
  /** Where the flame stays, having come back by itself or never been lost. */
  window: { low: number; high: number };
  plateau: number;
  required: number;
  steady: (pressure: number) => number;
  flame: FlameFacts;
  meters: MeterFacts;
  course: Course;
  /** The signal without noise, step by step. */
  light: Float64Array;
}

/** FNV-1a, 32 bits. */
const hashOf = (text: string): number =>
  Array.from(text).reduce((hash, letter) => Math.imul(hash ^ letter.codePointAt(0)!, 0x01000193), 0x811c9dc5) >>> 0;

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
const smoothstep = (x: number) => (x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x));

/** A steady curve of one of several families, and where it falls to nine tenths of its top. */
function drawCurve({ between, oneOf }: Pick<Draft, 'between' | 'oneOf'>) {
  const [dark, amplitude] = [between(0, 0.04), between(3.2, 6.5)];
  const [low, high] = [between(0.9, 1.5), between(3.3, 4.6)];
  const widths = [between(0.03, 0.12), between(0.05, 0.18)] as const;
  const [powerLow, powerHigh] = [between(5, 9), between(6, 12)];
  const families = {
    logistic: (p: number) => logistic((p - low) / widths[0]) * logistic((high - p) / widths[1]),
    smoothstep: (p: number) => smoothstep((p - low) / (4 * widths[0])) * smoothstep((high - p) / (4 * widths[1])),
    power: (p: number) =>
      Math.max(0, 1 - (low / Math.max(p, 0.01)) ** powerLow) * Math.max(0, 1 - (p / (1.15 * high)) ** powerHigh),
  };
  const share = families[oneOf(['logistic', 'logistic', 'smoothstep', 'power'] as const)];
  const steady = (p: number) => dark + amplitude * share(p);
  const grid = Array.from({ length: 6001 }, (_, i) => 0.3 + i * 0.001);
  const top = Math.max(...grid.map(steady));
  const good = grid.filter((p) => steady(p) >= 0.9 * top);
  return { steady, dark, top, ends: { low: good[0]!, high: good.at(-1)! } };
}

/** A sweep of one kind: pilot, hand and meters drawn from the seed. */
export function drawLossSweep(kind: LossKind, seed: number): LossSweep {
  const random: Random = createRandom(hashOf(`${kind}/${seed}`));
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const oneOf = <T>(values: readonly T[]): T => values[Math.floor(values.length * random.uniform())]!;
  const { steady, dark, top, ends } = drawCurve({ between, oneOf });
  const width = ends.high - ends.low;
  const at = (share: number, side: 'low' | 'high') => {
    let p = ends[side];
    while (steady(p) > share * top && p > 0.3) p += side === 'low' ? -0.002 : 0.002;
    return p;
  };
  const safe = ends.low + width * between(0.4, 0.6);
  const far = [Math.max(0.35, at(between(0.3, 0.7), 'low')), at(between(0.3, 0.7), 'high')];
  const draft: Draft = {
    between,
    oneOf,
    ends,
    flame: { relight: 'itself', drafts: [], draftsIn: [ends.low + 0.25 * width, ends.high - 0.25 * width] },
    hand: {
      start: safe,
      legs: [...(random.uniform() < 0.5 ? far : far.toReversed()), safe],
      safe,
      turn: (far[1]! - far[0]!) / between(14, 24),
      fanOnly: oneOf([0, 0.1, 0.3]),
    },
    meters: {
      pressureHz: between(2, 10),
      signalHz: between(2, 10),
      pressureDigit: oneOf([0.001, 0.01]),
      signalDigit: oneOf([0.001, 0.01]),
      noise: between(0.005, 0.025),
      flicker: between(0.02, 0.1),
      correlatedS: oneOf([0, 0, 1.5]),
      ...lagOf(between(0.3, 2), between(0, 0.3)),
      manometerS: between(0.05, 0.15),
    },
    setup: {},
    trials: [],
  };
  changes[kind](draft);
  const { flame, meters, setup, trials } = draft;
  const course = sweepByHand(flame, draft.hand, random);
  const { readings, light } = readMeters(course, steady, { dark, top }, meters, random);
  const capture: Capture = {
    id: `${kind} ${seed}`,
    meters: [],
    setup,
    readings,
    lines: [],
    marks: [],
    trials,
    notes: [],
  };
  const signal = {
    low: Math.max(ends.low, flame.low?.lost ?? 0),
    high: Math.min(ends.high, flame.high?.lost ?? Infinity),
  };
  const byItself = flame.relight === 'itself';
  const window = {
    low: Math.max(signal.low, (byItself && flame.low?.back) || 0),
    high: Math.min(signal.high, (byItself && flame.high?.back) || Infinity),
  };
  return { capture, signal, window, plateau: top, required: 0.9 * top, steady, flame, meters, course, light };
}

/** A whole delay of which a share is dead time. */
const lagOf = (delayS: number, deadShare: number) => ({ deadS: delayS * deadShare, lagS: delayS * (1 - deadShare) });

/** The true delay of the signal behind what the manometer shows, seconds. */
export const trueLag = ({ deadS, lagS, manometerS }: MeterFacts): number => deadS + lagS - manometerS;
