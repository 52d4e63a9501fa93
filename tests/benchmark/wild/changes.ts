import type { Draws } from './families.ts';
import type { Hand } from './hand.ts';
import type { Facts } from './simulate.ts';

/** One sweep while it is drawn. */
export interface Draft extends Draws {
  facts: Facts;
  hand: Hand;
  /** Where the true curve falls to nine tenths of its top. */
  ends: { low: number; high: number };
  top: number;
  typed: boolean;
}

/** What makes a kind of a plain sweep. */
export type Change = (draft: Draft) => unknown;

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
export const hands = {
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
export const soundMeters = {
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
export const misleading = {
  'two lags in a row': ({ facts, between }) => (facts.secondLagS = between(0.3, 1)),
  'a damped manometer': ({ facts, between }) => (facts.manometerS = between(0.4, 1)),
  // Not of the first order, as which the analysis takes out what a manometer lags.
  'a manometer that averages': ({ facts, between }) => (facts.averageS = between(0.5, 2)),
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
