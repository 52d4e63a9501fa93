import { stepS } from '../burner/facts.ts';
import type { Doing, Site } from './actions.ts';

/** Whether the meter has shown no flame for a while. */
function createWatch({ burner }: Site, noticesS: number) {
  let darkS = 0;
  return () => {
    darkS = burner.flame || burner.signal > 0.12 ? 0 : darkS + stepS;
    return darkS > noticesS || burner.tripped;
  };
}

/**
 * Turns the regulator until the gauge shows `target`; 'lost' as soon as somebody who notices a dark signal after
 * `noticesS` stops turning. Speed in inH2O/s.
 */
export function* turnTo(site: Site, target: number, noticesS = Infinity): Doing<'there' | 'lost'> {
  const { burner, between, random, turning } = site;
  const lost = createWatch(site, noticesS);
  const way = Math.sign(target - burner.hands.screw) || 1;
  const style =
    turning.style === 'mixed'
      ? (['smooth', 'jerks', 'stairs'] as const)[Math.floor(3 * random.uniform())]!
      : turning.style;
  function* move(to: number, speed: number): Doing<boolean> {
    const start = burner.hands.screw;
    const steps = Math.max(1, Math.round(Math.abs(to - start) / speed / stepS));
    for (let i = 1; i <= steps; i += 1) {
      burner.hands.screw = start + ((to - start) * i) / steps;
      yield;
      if (lost()) return true;
    }
    return false;
  }
  function* rest(seconds: number): Doing<boolean> {
    for (let i = 0; i < seconds / stepS; i += 1) {
      yield;
      if (lost()) return true;
    }
    return false;
  }
  const aim = target + way * turning.overshoot;
  while ((aim - burner.hands.screw) * way > 1e-9) {
    const left = Math.abs(aim - burner.hands.screw);
    const part =
      style === 'smooth' ? between(0.4, 1.2) : style === 'jerks' ? turning.speed * between(0.8, 2) : between(0.06, 0.3);
    const speed = style === 'smooth' ? turning.speed * between(0.7, 1.3) : between(0.2, 0.6);
    const to = burner.hands.screw + way * Math.min(left, part);
    if (yield* move(to, speed)) return 'lost';
    const pause = style === 'smooth' ? 0 : style === 'jerks' ? between(0.3, 1.2) : between(2.5, 7);
    if (yield* rest(pause)) return 'lost';
  }
  if (turning.overshoot > 0) {
    if (yield* rest(between(0.5, 2))) return 'lost';
    if (yield* move(target, turning.speed)) return 'lost';
  }
  return (yield* rest(between(2, 5))) ? 'lost' : 'there';
}

/** Turns the screw with the gas shut, by guess: nothing shows. */
export function* presetScrew(site: Site, target: number): Doing {
  const start = site.burner.hands.screw;
  const steps = Math.round(site.between(3, 8) / stepS);
  for (let i = 1; i <= steps; i += 1) {
    site.burner.hands.screw = start + ((target - start) * i) / steps;
    yield;
  }
}
