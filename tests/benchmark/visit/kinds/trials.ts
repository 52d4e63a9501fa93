import type { Draft } from '../draft/draft.ts';

const trials = ({ plan }: Draft, count: number, each: (k: number) => Partial<Draft['plan']['trials'][number]>) => {
  plan.trials = Array.from({ length: count }, (_, k) => ({ pressure: plan.setting, delayS: 0, ...each(k) }));
};

/** Light-off trials: how many, how timed, what fails, what is wired or typed. */
export const trialKinds: Record<string, (draft: Draft) => void> = {
  'many trials': (draft) => trials(draft, draft.oneOf([4, 5, 6]), () => ({ typed: draft.chance(0.7) })),
  'trials fail': (draft) => {
    draft.burner.flame.failsAt = draft.oneOf([[0], [0, 1], [1], [1, 2]]);
    trials(draft, 3, () => ({ typed: true }));
  },
  'delayed spark, wired': (draft) => {
    draft.instruments.ignition = true;
    const { trialS } = draft.burner.control;
    trials(draft, 3, (k) => ({ delayS: k === 0 ? 0 : draft.between(0.5, 0.7) * trialS, typed: draft.chance(0.5) }));
  },
  'delayed spark, typed': (draft) => {
    draft.instruments.ignition = false;
    const { trialS } = draft.burner.control;
    trials(draft, 3, (k) => ({ delayS: k === 0 ? 0 : draft.between(0.5, 0.7) * trialS, typed: true, withTime: true }));
  },
  'delayed spark, not on record': (draft) => {
    draft.instruments.ignition = false;
    draft.plan.types = false;
    const { trialS } = draft.burner.control;
    trials(draft, 3, () => ({ delayS: draft.chance(0.5) ? 0 : draft.between(0.5, 0.7) * trialS }));
  },
  'trials at other pressures': (draft) => {
    const { low, high } = draft.burner.curve;
    draft.plan.types = true;
    trials(draft, 5, () => ({ pressure: low + (high - low) * draft.between(-0.1, 1.1), withTime: draft.chance(0.5) }));
  },
  'trials typed without time': (draft) => {
    Object.assign(draft.plan, { types: true, withTime: false });
    trials(draft, 3, () => ({}));
  },
  'lockout and retry': (draft) => {
    draft.burner.flame.failsAt = [0, 1];
    draft.burner.control.failureS = draft.between(1, 4);
    draft.plan.asFound = draft.burner.curve.low + 0.4 * (draft.burner.curve.high - draft.burner.curve.low);
  },
  'does not light, gas left open': (draft) => {
    const { plan, burner } = draft;
    trials(draft, 2, (k) => ({ leaveOpenS: k === 0 ? draft.between(8, 40) : 0 }));
    // Attempt 0 lights the burner; the first trial is attempt 1.
    burner.flame.failsAt = [1];
    plan.sweeps = [[]];
  },
  'short purges': (draft) => {
    draft.plan.purgeS = draft.between(3, 8);
    trials(draft, 4, () => ({ typed: draft.chance(0.5) }));
  },
  'slow to light': (draft) => {
    draft.burner.flame.lightsIn = draft.between(2, 6);
    trials(draft, 4, () => ({ typed: draft.chance(0.5) }));
  },
};
