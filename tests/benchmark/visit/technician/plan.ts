import { type Doing, lightOff, purge, shutGas, type Site, wait } from './actions.ts';
import { presetScrew, turnTo } from './turning.ts';
import { type OnLoss, relight, sweep } from './sweep.ts';

/** What a technician intends to do in one visit. Pressures in inH2O, times in s. */
export interface Plan {
  /** Gas and fan off before anything, and at the end. */
  idleS: [before: number, after: number];
  /** Fan already running when the recording begins. */
  fanFromStart: boolean;
  /** The valve is opened when the recording begins, or stays open when it ends. */
  startsLit: boolean;
  endsLit: boolean;
  purgeS: number;
  confirmed: boolean;
  asFound: number;
  holdS: number;
  /** Each list of targets is one sweep. */
  sweeps: number[][];
  onLoss: OnLoss;
  /** Where it is relit after a loss, and where it is left. */
  setting: number;
  /** Light-offs before the sweeps and after them: spark delays, at which pressures. */
  trials: {
    pressure: number;
    delayS: number;
    typed?: boolean;
    withTime?: boolean;
    /** A trial that failed leaves the gas open for so long. */
    leaveOpenS?: number;
  }[];
  /** Idle minutes between the sweeps, gas shut. */
  breakS: number;
  /** Whether light-offs are typed at all, and with their times. */
  types: boolean;
  withTime: boolean;
  /** The valve is shut while the regulator stands at the last target of the first sweep. */
  shutAtEnd: boolean;
}

/** The whole visit as it usually goes: idle, purge, light-off, hold, sweeps, setting, trials, after. */
export function* carryOut(site: Site, plan: Plan): Doing {
  const { burner, between, notes } = site;
  if (!plan.startsLit) {
    yield* wait(site, plan.idleS[0]);
    yield* purge(site, plan.purgeS, plan.confirmed);
  }
  let lit = yield* lightOff(site, { typed: false });
  if (!lit) lit = yield* relight(site, plan.asFound, plan.purgeS, plan.confirmed);
  if (!lit) return yield* wait(site, plan.idleS[1]);
  yield* wait(site, 6);
  if (plan.startsLit) site.recordedFrom = burner.t;
  yield* wait(site, plan.holdS);
  notes.push({ atS: burner.t, kind: 'as-found' });

  for (const [number, targets] of plan.sweeps.entries()) {
    if (number > 0 && plan.breakS > 0) {
      yield* shutGas(site);
      yield* wait(site, plan.breakS);
      lit = yield* relight(site, plan.setting, plan.purgeS, plan.confirmed);
    }
    if (lit) lit = yield* sweep(site, { ...plan, targets });
    if (plan.shutAtEnd && number === 0) {
      yield* shutGas(site);
      yield* wait(site, between(10, 30));
      lit = yield* relight(site, plan.setting, plan.purgeS, plan.confirmed);
    }
  }
  if (lit) {
    yield* turnTo(site, plan.setting);
    yield* wait(site, between(5, 12));
    notes.push({ atS: burner.t, kind: 'as-left' });
    lit = burner.flame;
  }
  for (const { pressure, leaveOpenS = 0, ...attempt } of plan.trials) {
    yield* shutGas(site);
    burner.tripped = false;
    if (Math.abs(pressure - burner.hands.screw) > 1e-6) yield* presetScrew(site, pressure);
    yield* purge(site, plan.purgeS, plan.confirmed);
    lit = yield* lightOff(site, { ...attempt, leaveOpen: leaveOpenS > 0 });
    if (!lit) yield* wait(site, leaveOpenS);
    yield* wait(site, between(3, 9));
  }
  if (plan.endsLit && lit) return yield* wait(site, between(5, 20));
  yield* shutGas(site);
  yield* wait(site, plan.idleS[1] / 2);
  burner.hands.fan = false;
  yield* wait(site, plan.idleS[1] / 2);
}
