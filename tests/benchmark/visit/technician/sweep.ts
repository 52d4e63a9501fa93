import { type Doing, lightOff, purge, shutGas, type Site, sparkAgain, until, wait } from './actions.ts';
import { presetScrew, turnTo } from './turning.ts';

/**
 * What happens when the flame is lost in a sweep. `turns-back`: the pressure is turned back until the flame comes back
 * by itself. `sparks`: turned back and sparked with the gas left on. `shuts`: gas shut by hand, purge, light-off.
 * `waits-for-control`: stands still until the control shuts. `does-not-notice`: goes on turning. `leaves`: never shut.
 */
export type OnLoss = 'turns-back' | 'sparks' | 'shuts' | 'waits-for-control' | 'does-not-notice' | 'leaves';

/** Purge, screw to where it should light, light-off; a second attempt when the first fails. */
export function* relight(site: Site, setting: number, purgeS: number, confirmed: boolean): Doing<boolean> {
  site.burner.tripped = false;
  for (let attempt = 0; attempt < 3; attempt += 1) {
    yield* presetScrew(site, setting);
    yield* purge(site, purgeS, confirmed);
    if (yield* lightOff(site)) {
      yield* wait(site, site.between(3, 8));
      return true;
    }
    site.burner.tripped = false;
  }
  return false;
}

/** Gas on, flame gone, hand still. True when it burns again. */
function* answerLoss(site: Site, onLoss: OnLoss, setting: number, purgeS: number, confirmed: boolean): Doing<boolean> {
  const { burner, between } = site;
  switch (onLoss) {
    case 'turns-back': {
      yield* turnTo(site, setting);
      if (yield* until(site, () => burner.flame || !burner.hands.valve, 6)) {
        if (burner.flame) return true;
      }
      yield* shutGas(site);
      return yield* relight(site, setting, purgeS, confirmed);
    }
    case 'sparks': {
      yield* wait(site, between(1, 4));
      yield* turnTo(site, setting);
      if (burner.hands.valve && (burner.flame || (yield* sparkAgain(site, 8)))) return true;
      yield* shutGas(site);
      return yield* relight(site, setting, purgeS, confirmed);
    }
    case 'waits-for-control':
      yield* until(site, () => burner.tripped, 6);
      yield* shutGas(site);
      return yield* relight(site, setting, purgeS, confirmed);
    case 'leaves':
      yield* wait(site, between(60, 150));
      return false;
    case 'shuts':
    case 'does-not-notice':
      yield* wait(site, between(0.5, 12));
      yield* shutGas(site);
      return yield* relight(site, setting, purgeS, confirmed);
  }
}

export interface SweepPlan {
  /** Pressures turned to, one after the other. */
  targets: number[];
  onLoss: OnLoss;
  /** Where the burner is lit again. */
  setting: number;
  purgeS: number;
  confirmed: boolean;
}

/**
 * Turns to each target. A flame lost on the way ends that leg; with the next one, away from the edge, it goes on.
 * False when the burner does not burn any more.
 */
export function* sweep(site: Site, { targets, onLoss, setting, purgeS, confirmed }: SweepPlan): Doing<boolean> {
  const { burner, between, notes } = site;
  notes.push({ atS: burner.t - between(0, 1), kind: 'sweep-start' });
  let burns = true;
  for (const target of targets) {
    const notices = onLoss === 'does-not-notice' ? Infinity : between(0.3, 3);
    const end = yield* turnTo(site, target, notices);
    if (end === 'lost' || burner.tripped) burns = yield* answerLoss(site, onLoss, setting, purgeS, confirmed);
    if (!burns) break;
  }
  // Who did not notice finds out at the end.
  if (burns && !burner.flame) burns = yield* answerLoss(site, onLoss, setting, purgeS, confirmed);
  notes.push({ atS: burner.t + between(0, 1), kind: 'sweep-end' });
  return burns;
}
