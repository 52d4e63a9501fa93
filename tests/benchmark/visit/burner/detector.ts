import type { Random } from '../../../../shared/numerics/random.ts';
import { type BurnerFacts, stepS } from './facts.ts';
import type { FlameState } from './flame.ts';

/** Deviation of the flicker of the light at a share of the curve: largest half way down a shoulder. */
export const flickerAt = ({ detector }: BurnerFacts, share: number): number =>
  detector.flicker * Math.min(1, share) + detector.shoulderFlicker * 4 * share * (1 - Math.min(1, share));

/** The longest and deepest gust. */
export const gustMost = { seconds: 2.4, depth: 0.55 };

/** How much the warming detector still lacks after so many seconds of flame. */
export const warmthAt = ({ detector }: BurnerFacts, burnedS: number): number =>
  1 - detector.warmUp * Math.exp(-burnedS / detector.warmUpS);

/** Steady signal in front of the clip: what a flame would give that has burned so long at a share of the curve. */
export const steadySignal = (facts: BurnerFacts, share: number, burnedS = Infinity): number =>
  facts.detector.dark + share * warmthAt(facts, burnedS);

/**
 * Deviation of the flicker behind lag and clip: an Ornstein-Uhlenbeck process of time T through a first-order lag of time
 * L keeps T / (T + L) of its variance. Of what lies above the clip nothing is seen.
 */
export function seenFlicker(facts: BurnerFacts, share: number): number {
  const { clip, dark, flickerS, lagS } = facts.detector;
  const sd = flickerAt(facts, share) * Math.sqrt(flickerS / (flickerS + lagS));
  const room = (clip - dark - share) / Math.max(sd, 1e-9);
  return sd / (1 + Math.exp(-1.7 * room));
}

/**
 * Light -> shutter -> dead time -> first-order lag -> clip of the amplifier. Flicker is an Ornstein-Uhlenbeck process; a
 * gust takes a part of the light away for some seconds.
 */
export function createDetector(facts: BurnerFacts, random: Random) {
  const d = facts.detector;
  const keep = Math.exp(-stepS / d.flickerS);
  const gain = stepS / (stepS + d.lagS);
  const dead = Math.max(0, Math.round(d.deadS / stepS));
  const buffer = Array.from({ length: dead + 1 }, () => d.dark);
  let at = 0;
  let lagged = d.dark;
  let flicker = random.normal();
  let [gustLeftS, gustDepth] = [0, 0];
  let shut = false;
  let untilShutterS = d.shutter ? d.shutter.periodS * random.uniform() : Infinity;

  const step = (share: number, flame: FlameState, spark: boolean) => {
    flicker = keep * flicker + Math.sqrt(1 - keep * keep) * random.normal();
    if (gustLeftS > 0) gustLeftS -= stepS;
    else if (random.uniform() < stepS / d.gustEveryS) {
      gustLeftS = gustMost.seconds * (0.15 + 0.85 * random.uniform());
      gustDepth = gustMost.depth * (0.3 + 0.7 * random.uniform());
    }
    if (d.shutter) {
      untilShutterS -= stepS;
      shut = untilShutterS <= 0;
      if (untilShutterS <= -d.shutter.closedS) untilShutterS = d.shutter.periodS * (0.98 + 0.04 * random.uniform());
    }
    const light = flame.burns
      ? Math.max(0, share * warmthAt(facts, flame.burnedS) * (1 - gust()) + flickerAt(facts, share) * flicker)
      : 0;
    // The spark's noise enters the leads, behind the shutter.
    const seen = d.dark + (shut ? 0 : light) + (spark ? d.sparkAdds * (1 + 0.3 * random.normal()) : 0);
    buffer[at] = seen;
    at = (at + 1) % buffer.length;
    lagged += gain * (buffer[at]! - lagged);
  };
  const gust = () => (gustLeftS > 0 ? gustDepth : 0);

  return {
    step,
    get signal() {
      return Math.min(d.clip, lagged);
    },
    get shut() {
      return shut;
    },
    get gust() {
      return gust();
    },
  };
}
