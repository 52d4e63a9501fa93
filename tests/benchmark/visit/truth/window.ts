import { shareAt } from '../burner/curves.ts';
import { steadySignal } from '../burner/detector.ts';
import type { BurnerFacts } from '../burner/facts.ts';
import type { Simulated } from '../simulated.ts';
import type { Ends } from '../types.ts';

const steps = 8000;

/** What an amplifier shows that has waited long enough at the pressure. */
const shown = (facts: BurnerFacts, p: number) =>
  Math.min(facts.detector.clip, steadySignal(facts, shareAt(facts.curve, p)));

/** Highest steady signal of a burning flame between two pressures, and where it is. */
export function plateauOf(facts: BurnerFacts, from: number, to: number): { level: number; at: number } {
  let best = { level: -Infinity, at: from };
  for (let i = 0; i <= steps; i += 1) {
    const at = from + ((to - from) * i) / steps;
    const level = shown(facts, at);
    if (level > best.level + 1e-9) best = { level, at };
  }
  return best;
}

/**
 * Ends by the definitions of CONTRACTS: the run of pressures about the plateau over which the steady signal is at or above
 * `required`, each end found by bisection; no end where the spring's end comes first.
 */
export function signalEnds(facts: BurnerFacts, required: number, plateauAt: number): Ends {
  const { springLow, springHigh } = facts.regulator;
  const good = (p: number) => shown(facts, p) >= required - 1e-12;
  const outwards = (limit: number) => {
    const by = (limit - plateauAt) / steps;
    let k = 0;
    while (k < steps && good(plateauAt + by * (k + 1))) k += 1;
    if (k === steps) return undefined;
    let [inside, outside] = [plateauAt + by * k, plateauAt + by * (k + 1)];
    for (let round = 0; round < 50; round += 1) {
      const half = (inside + outside) / 2;
      if (good(half)) inside = half;
      else outside = half;
    }
    return inside;
  };
  return good(plateauAt) ? { low: outwards(springLow), high: outwards(springHigh) } : {};
}

const innermost = (ends: Ends[]): Ends => {
  const lows = ends.flatMap(({ low }) => (low === undefined ? [] : [low]));
  const highs = ends.flatMap(({ high }) => (high === undefined ? [] : [high]));
  return {
    ...(lows.length > 0 && { low: Math.max(...lows) }),
    ...(highs.length > 0 && { high: Math.min(...highs) }),
  };
};

/**
 * All limits of the true window. Where the flame was lost and came back by itself in this visit, its end is where it comes
 * back; elsewhere where it is lost. Light-off: the pressures at which a spark lights it at once and held back.
 */
export function windowOf({ facts, required, plateauAt }: Simulated, cameBack: { low: boolean; high: boolean }) {
  const { flame, regulator } = facts;
  const inside = (ends: { low: number; high: number }): Ends => ({
    ...(ends.low > regulator.springLow && { low: ends.low }),
    ...(ends.high < regulator.springHigh && { high: ends.high }),
  });
  const signal = signalEnds(facts, required, plateauAt);
  const lost = inside({ low: flame.lostBelow, high: flame.lostAbove });
  const returned = inside({ low: flame.returnsAbove, high: flame.returnsBelow });
  const lightOff = inside({ low: flame.lightsAbove, high: Math.min(flame.lightsBelow, flame.lightsBelowDelayed) });
  const burning: Ends = {
    low: cameBack.low ? returned.low : lost.low,
    high: cameBack.high ? returned.high : lost.high,
  };
  return { window: innermost([signal, burning, lightOff]), ends: { signal, lost, returned, lightOff } };
}
