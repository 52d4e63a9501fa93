import { shoulderAt } from '../burner/curves.ts';
import { longestPulseS } from '../burner/facts.ts';
import type { Draft } from '../draft/draft.ts';
import type { OnLoss } from '../technician/sweep.ts';

export type Side = 'lean' | 'rich';

/** Turned so far that the flame is lost, where the signal is still good or already poor. */
export function losesFlame({ burner, plan, between, chance }: Draft, side: Side, returns: boolean): void {
  const { curve, flame } = burner;
  flame.returns = returns;
  const part = between(0.2, 0.98);
  const past = between(0.03, 0.25);
  const other = shoulderAt(curve, side === 'lean' ? 1 : -1, between(0.4, 0.9));
  let end: number;
  if (side === 'lean') {
    flame.lostBelow = Math.max(shoulderAt(curve, -1, part), flame.lostBelow);
    flame.returnsAbove = flame.lostBelow + between(0.1, 0.4);
    flame.lightsAbove = Math.max(flame.lightsAbove, flame.lostBelow + 0.05);
    end = flame.lostBelow - past;
  } else {
    flame.lostAbove = Math.min(shoulderAt(curve, 1, part), flame.lostAbove);
    flame.returnsBelow = flame.lostAbove - between(0.1, 0.4);
    flame.lightsBelow = Math.min(flame.lightsBelow, flame.lostAbove - 0.05);
    end = flame.lostAbove + past;
  }
  plan.sweeps = [chance(0.5) ? [end, other] : [other, end]];
}

const losing =
  (side: Side | undefined, returns: boolean, onLoss: OnLoss, more?: (draft: Draft) => void) => (draft: Draft) => {
    losesFlame(draft, side ?? draft.oneOf<Side>(['lean', 'rich']), returns);
    draft.plan.onLoss = onLoss;
    more?.(draft);
  };

/** The flame is lost with gas on, and what happens then. */
export const lossKinds: Record<string, (draft: Draft) => void> = {
  'lost lean, back by itself': losing('lean', true, 'turns-back'),
  'lost rich, back by itself': losing('rich', true, 'turns-back'),
  'lost, relit by spark': losing(undefined, false, 'sparks'),
  'lost, shut by control': losing(undefined, false, 'waits-for-control', ({ burner, between }) => {
    burner.control.failureS = between(1, 4);
  }),
  'lost, shut by hand': losing(undefined, false, 'shuts'),
  'lost, gas never shut': losing(undefined, false, 'leaves', ({ plan }) => {
    plan.endsLit = true;
    plan.trials = [];
  }),
  'lost, not noticed': losing(undefined, true, 'does-not-notice'),
  'lost twice': losing(undefined, true, 'turns-back', ({ plan }) => {
    plan.sweeps = [[...plan.sweeps[0]!, ...plan.sweeps[0]!]];
  }),
  'lost at both ends': (draft) => {
    losesFlame(draft, 'lean', true);
    losesFlame(draft, 'rich', true);
    const { flame } = draft.burner;
    draft.plan.sweeps = [[flame.lostBelow - 0.15, flame.lostAbove + 0.15]];
    draft.plan.onLoss = draft.oneOf(['turns-back', 'does-not-notice', 'sparks']);
  },
  'blown out while at rest': ({ burner, plan, between, oneOf }) => {
    burner.flame.returns = false;
    burner.flame.blownOutAt = [between(15, 60)];
    plan.holdS = between(20, 60);
    plan.onLoss = oneOf(['shuts', 'sparks']);
  },
  'drops out and comes back': ({ burner, plan, between }) => {
    burner.flame.returns = true;
    burner.flame.returnsAbove = burner.flame.lostBelow + 0.02;
    burner.flame.returnsBelow = burner.flame.lostAbove - 0.02;
    burner.flame.blownOutAt = Array.from({ length: 5 }, () => between(12, 100));
    plan.holdS = between(20, 60);
    plan.onLoss = 'does-not-notice';
  },
  'lost with self-checks': losing(undefined, true, 'shuts', ({ burner, between }) => {
    burner.detector.shutter = { periodS: between(4, 20), closedS: between(0.2, longestPulseS) };
  }),
  'lost, slow detector': losing(undefined, false, 'shuts', ({ burner, between }) => {
    Object.assign(burner.detector, { deadS: between(0.5, 1), lagS: between(2, 3) });
  }),
  'lost, clipped signal': losing(undefined, true, 'turns-back', ({ burner, between }) => {
    burner.detector.clip = burner.detector.dark + between(0.6, 0.85);
  }),
  'lost while sparking': losing(undefined, false, 'sparks', ({ burner, between }) => {
    burner.detector.sparkAdds = between(0.08, 0.15);
  }),
};
