import type { Draft } from './draft.ts';

/** Burns at its setting for so long that false alarms can be counted. */
function steadyBurning({ plan, between }: Draft): void {
  plan.sweeps = [];
  plan.trials = [];
  plan.holdS = between(620, 700);
}

/** Turns so far down or up that the flame is lost on a shoulder where the signal is still good or already poor. */
function losesFlame({ burner, plan, between, chance }: Draft, side: 'lean' | 'rich', returns: boolean): void {
  const { curve, flame } = burner;
  flame.returns = returns;
  if (side === 'lean') {
    flame.lostBelow = curve.low + between(-1, 3) * curve.lowWidth;
    flame.returnsAbove = flame.lostBelow + between(0.1, 0.4);
    flame.lightsAbove = Math.max(flame.lightsAbove, flame.lostBelow + 0.05);
  } else {
    flame.lostAbove = curve.high - between(-1, 3) * curve.highWidth;
    flame.returnsBelow = flame.lostAbove - between(0.1, 0.4);
    flame.lightsBelow = Math.min(flame.lightsBelow, flame.lostAbove - 0.05);
  }
  const past = between(0.03, 0.25);
  const down = side === 'lean' ? flame.lostBelow - past : curve.low;
  const up = side === 'rich' ? flame.lostAbove + past : curve.high;
  plan.sweeps = [chance(0.5) ? [down, up] : [up, down]];
}

/** What makes each kind: changes to the plain visit. New kinds go to the end; a seed is drawn for each kind by its name. */
export const changes: Record<string, (draft: Draft) => void> = {
  plain: () => undefined,
  'no marks, nothing entered': ({ entered }) =>
    Object.assign(entered, {
      fanOnly: false,
      minimum: false,
      trialSeconds: false,
      marks: false,
      makerRange: false,
      asLeft: false,
    }),
  stairs: ({ turning }) => (turning.style = 'stairs'),
  'lost lean, back by itself': (draft) => {
    losesFlame(draft, 'lean', true);
    draft.plan.onLoss = 'turns-back';
  },
  'lost rich, back by itself': (draft) => {
    losesFlame(draft, 'rich', true);
    draft.plan.onLoss = 'turns-back';
  },
  'lost, relit by spark': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.plan.onLoss = 'sparks';
  },
  'lost, shut by control': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.burner.control.failureS = draft.between(1, 4);
    draft.plan.onLoss = 'waits-for-control';
  },
  'lost, shut by hand': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.plan.onLoss = 'shuts';
  },
  'lost, gas never shut': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.plan.onLoss = 'leaves';
    draft.plan.endsLit = true;
  },
  'lost, not noticed': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), draft.chance(0.7));
    draft.plan.onLoss = 'does-not-notice';
  },
  'steady with flicker': (draft) => {
    steadyBurning(draft);
    draft.burner.detector.flicker = draft.between(0.02, 0.05);
  },
  'steady with self-checks': (draft) => {
    steadyBurning(draft);
    draft.burner.detector.shutter = { periodS: draft.between(4, 20), closedS: draft.between(0.2, 0.8) };
  },
  'trials fail': ({ burner, plan, oneOf }) => {
    burner.flame.failsAt = oneOf([[0], [0, 1], [1], [1, 2]]);
    plan.trials = Array.from({ length: 3 }, () => ({ pressure: plan.setting, delayS: 0, typed: true, withTime: true }));
  },
};
