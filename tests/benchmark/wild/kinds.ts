import type { Capture } from '../../../shared/model/capture.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { type Change, type Draft, hands, misleading, soundMeters } from './changes.ts';
import { type Draws, families, type FamilyName, familyNames } from './families.ts';
import { stepS, turn } from './hand.ts';
import { type Facts, readingsOf, shownSteady } from './simulate.ts';
import { truthOf, type WildTruth } from './truth.ts';

/** A sweep with what is true of it; the analysis gets only `capture`. */
export interface WildSweep {
  capture: Capture;
  facts: Facts;
  path: number[];
  tested: [number, number];
  truth: WildTruth & { lagS: number };
}

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
  const tested = testedWith(facts, path, hand.legs);
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
  // Each by which a steady ramp comes later: a mean over some seconds by half of them.
  const manometerS = facts.manometerS + (facts.averageS ?? 0) / 2;
  const lagS = facts.deadS + facts.lagS + facts.secondLagS - manometerS;
  return { capture, facts, path, tested, truth: { ...truthOf(shownSteady(facts), tested), lagS } };
}

/** Lowest and highest pressure that was tested: where the hand turned on while the flame was out, nothing was. */
function testedWith({ outs }: Facts, path: readonly number[], legs: readonly number[]): [number, number] {
  const turned: [number, number] = [Math.min(...legs), Math.max(...legs)];
  if (outs.length === 0) return turned;
  const lit = path.filter((_, i) => !outs.some(({ fromS, toS }) => i * stepS >= fromS && i * stepS < toS));
  return lit.reduce(([low, high], p) => [Math.min(low, p), Math.max(high, p)], [turned[1], turned[0]]);
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
