import type { Capture } from '../../../shared/model/capture.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { type Draws, families, type FamilyName, familyNames } from './families.ts';
import { type Hand, stepS, turn } from './hand.ts';
import { type Facts, readingsOf, shownSteady } from './simulate.ts';
import { truthOf, type WildTruth } from './truth.ts';

/** One sweep while it is drawn. */
interface Draft extends Draws {
  facts: Facts;
  hand: Hand;
  /** Where the true curve falls to nine tenths of its top. */
  ends: { low: number; high: number };
  top: number;
  typed: boolean;
}

/** A sweep with what is true of it; the analysis gets only `capture`. */
export interface WildSweep {
  capture: Capture;
  facts: Facts;
  path: number[];
  tested: [number, number];
  truth: WildTruth & { lagS: number };
}

type Change = (draft: Draft) => unknown;

const clipped =
  (at: 'amplifier' | 'meter' | 'overload', shares: [number, number]): Change =>
  ({ facts, top, between }) =>
    (facts.top = { level: Math.round(top * between(...shares) * 100) / 100, at });
const outs =
  (count: number, seconds: [number, number], shut: boolean): Change =>
  (draft) => {
    draft.facts.outs = Array.from({ length: count }, () => draft.between(12, 90))
      .sort((a, b) => a - b)
      .map((fromS) => ({ fromS, toS: fromS + draft.between(...seconds), shut }));
  };
const drifting =
  (depth: number): Change =>
  ({ facts, between }) => {
    const [size, tau] = [depth * between(0.6, 1), between(40, 150)];
    facts.gainAt = (t) => 1 - size * Math.exp(-t / tau);
  };

/** What hands do. */
const hands = {
  'an even turn': ({ hand }) => (hand.style = 'even'),
  'turns and waits': ({ hand }) => (hand.back = 0),
  stairs: ({ hand }) => (hand.style = 'stairs'),
  'an uneven turn': ({ hand }) => (hand.style = 'uneven'),
  'turns back often': ({ hand }) => (hand.back = 0.25),
  'a slow hand': ({ hand, between }) => (hand.speed = between(0.015, 0.025)),
  'a fast hand': ({ hand, between }) => Object.assign(hand, { style: 'even', speed: between(0.12, 0.25) }),
  'down and up twice': ({ hand }) => hand.legs.push(...hand.legs.slice(1)),
  'long rests at the ends': ({ hand, between }) => (hand.restS = between(15, 40)),
  'just past the ends': ({ hand, ends, between }) => {
    const [low, high] = [ends.low - between(0.06, 0.15), ends.high + between(0.1, 0.25)];
    hand.legs = hand.legs.map((p) => (p < ends.low ? low : p > ends.high ? high : p));
  },
} satisfies Record<string, Change>;

/** What meters do; none of it misleads by itself. */
const soundMeters = {
  'a noisy signal': ({ facts, between }) =>
    Object.assign(facts, { white: between(0.04, 0.08), flicker: between(0.15, 0.3) }),
  'a quiet signal': ({ facts }) => Object.assign(facts, { white: 0.002, flicker: 0.01, signalDigit: 0.001 }),
  'one reading a second': ({ facts }) => Object.assign(facts, { pressureHz: 1, signalHz: 1 }),
  'many readings': ({ facts }) => Object.assign(facts, { pressureHz: 20, signalHz: 20 }),
  'a long lag': ({ facts, between }) => (facts.lagS = between(1.5, 2.8)),
  'a short lag': ({ facts, between }) => Object.assign(facts, { lagS: between(0.1, 0.25), deadS: 0.04 }),
  'coarse digits of the signal': ({ facts }) => (facts.signalDigit = 0.05),
  'coarse digits of the pressure': ({ facts }) => (facts.pressureDigit = 0.02),
} satisfies Record<string, Change>;

/** What misleads, and what happens to a flame. */
const misleading = {
  'two lags in a row': ({ facts, between }) => (facts.secondLagS = between(0.3, 1)),
  'a damped manometer': ({ facts, between }) => (facts.manometerS = between(0.4, 1)),
  'an amplifier cut off at half': clipped('amplifier', [0.5, 0.8]),
  'an amplifier cut off near the top': clipped('amplifier', [0.9, 0.98]),
  'a meter at the end of its range at half': clipped('meter', [0.5, 0.8]),
  'a meter at the end of its range near the top': clipped('meter', [0.9, 0.98]),
  'a meter that shows nothing below a third': ({ facts, top, between }) =>
    (facts.bottom = Math.round(top * between(0.15, 0.45) * 100) / 100),
  'a meter that shows nothing below half': ({ facts, top, between }) =>
    (facts.bottom = Math.round(top * between(0.5, 0.75) * 100) / 100),
  'overload at half': clipped('overload', [0.5, 0.8]),
  'overload near the top': clipped('overload', [0.9, 0.98]),
  'typed by hand': (draft) => {
    Object.assign(draft.facts, { pressureHz: 10, signalHz: 10 });
    draft.hand.speed = draft.between(0.015, 0.03);
    draft.typed = true;
  },
  'a signal that drifts a little': drifting(0.02),
  'a shutter every few seconds': ({ facts, between }) =>
    (facts.shutter = { periodS: between(4, 9), shutS: between(0.2, 0.6) }),
  'a shutter about as often as the lag': ({ facts, between }) => {
    const periodS = between(1.6, 3);
    facts.shutter = { periodS, shutS: between(0.15, 0.4) };
    facts.lagS = periodS * between(0.5, 1);
  },
  'drop-outs of a second or two': outs(2, [0.8, 2.5], false),
  'a lockout and a new light': outs(1, [18, 40], true),
} satisfies Record<string, Change>;

const changes: Record<string, Change> = { ...hands, ...soundMeters, ...misleading };
const ofFamilies = familyNames.map((name) => `curve: ${name}`);
/** Every kind. Each draws by its own name, so that a new one leaves the others alone. */
export const wildKinds: readonly string[] = [...ofFamilies, ...Object.keys(changes)];
/** Kinds on which an interval should be as narrow as the readings allow: turned both ways past both ends, by sound meters. */
export const wellBehaved: ReadonlySet<string> = new Set([
  ...ofFamilies,
  ...Object.keys(hands),
  ...Object.keys(soundMeters),
]);

/** FNV-1a, 32 bits. */
const hashOf = (text: string): number =>
  Array.from(text).reduce((hash, letter) => Math.imul(hash ^ letter.codePointAt(0)!, 0x01000193), 0x811c9dc5) >>> 0;

export function drawWildSweep(kind: string, seed: number): WildSweep {
  const random = createRandom(hashOf(`${kind}/${seed}`));
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const oneOf = <T>(values: readonly T[]): T => values[Math.floor(values.length * random.uniform())]!;
  const draft = plainSweep(
    { random, between, oneOf },
    kind.startsWith('curve: ') ? (kind.slice(7) as FamilyName) : undefined,
  );
  changes[kind]?.(draft);
  const { facts, hand, typed } = draft;
  const path = turn(hand, draft);
  const read = readingsOf(facts, path, draft);
  const readings = typed ? typedByHand(read, draft) : read;
  const tested: [number, number] = [Math.min(...hand.legs), Math.max(...hand.legs)];
  const capture: Capture = {
    id: `${kind} ${seed}`,
    meters: [],
    setup: {},
    readings,
    lines: [],
    marks: [],
    trials: [],
    notes: [],
  };
  const lagS = facts.deadS + facts.lagS + facts.secondLagS - facts.manometerS;
  return { capture, facts, path, tested, truth: { ...truthOf(shownSteady(facts), tested), lagS } };
}

/** Both meters every few seconds, to the whole second, digits as a person types them. */
function typedByHand(readings: readonly Reading[], { random, between }: Draws): Reading[] {
  const typed: Reading[] = [];
  const everyS = between(2, 4);
  for (let t = 3; t < readings.at(-1)!.elapsedS; t += everyS * (0.7 + 0.6 * random.uniform()))
    for (const role of ['pilot_pressure', 'flame_signal'] as const) {
      const last = readings.findLast((reading) => reading.role === role && reading.elapsedS <= t);
      if (last)
        typed.push({
          ...last,
          elapsedS: Math.round(t),
          value: Math.round(last.value * 100) / 100,
          raw: last.value.toFixed(2),
        });
    }
  return typed;
}

function plainSweep(draws: Draws, wanted: FamilyName | undefined): Draft {
  const { between, oneOf, random } = draws;
  const family = families[wanted ?? oneOf(familyNames)];
  const x = [between(0, 0.05), between(3.2, 6), ...family.draw(between)];
  const steady = (p: number) => x[0]! + x[1]! * family.share(x.slice(2), p);
  const { low = 0.3, high = 8, plateau } = truthOf(steady, [0.2, 8]);
  const down = (share: number, from: number, by: number) => {
    let p = from;
    while (p > 0.3 && p < 8 && steady(p) > share * plateau) p += by;
    return p;
  };
  const [from, to] = [down(between(0.05, 0.4), low, -0.01), down(between(0.05, 0.4), high, 0.01)];
  const middle = low + (high - low) * between(0.35, 0.65);
  return {
    ...draws,
    facts: {
      family,
      x,
      deadS: Math.round(between(0.05, 0.4) / stepS) * stepS,
      lagS: between(0.3, 1.2),
      secondLagS: 0,
      manometerS: between(0.05, 0.15),
      white: between(0.005, 0.025),
      flicker: between(0.03, 0.1),
      manometerNoise: 0.003,
      pressureHz: between(3, 10),
      signalHz: between(3, 10),
      pressureDigit: oneOf([0.001, 0.01]),
      signalDigit: oneOf([0.001, 0.01]),
      outs: [],
    },
    hand: {
      legs: [middle, ...(random.uniform() < 0.5 ? [from, to] : [to, from]), middle],
      speed: between(0.04, 0.09),
      style: 'jerks',
      restS: between(2, 5),
      back: 0.06,
    },
    ends: { low, high },
    top: plateau,
    typed: false,
  };
}
