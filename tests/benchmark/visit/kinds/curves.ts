import { type Curve, type CurveFamily, shoulderAt } from '../burner/curves.ts';
import { plainFlame, turningPoints } from '../draft/burner.ts';
import type { Draft } from '../draft/draft.ts';

const curve = (family: CurveFamily, more?: (curve: Curve, draft: Draft) => void) => (draft: Draft) => {
  const { burner, plan } = draft;
  burner.curve.family = family;
  more?.(burner.curve, draft);
  burner.flame = plainFlame(draft, burner.curve, burner.fan.only);
  plan.sweeps = [turningPoints(draft, burner)];
};

/** Shapes of the steady signal. */
export const curveKinds: Record<string, (draft: Draft) => void> = {
  'logistic shoulders': curve('logistic'),
  'power-law shoulders': curve('power-law'),
  'uneven shoulders': curve('gompertz'),
  'hump without a plateau': curve('hump'),
  'one-sided sag': curve('sag'),
  'two plateaus': curve('two-plateaus', (each, { between }) => (each.depth = between(0.12, 0.35))),
  'cliffs at both ends': (draft) => {
    curve('cliff')(draft);
    const { flame, curve: c } = draft.burner;
    flame.returns = true;
    draft.plan.sweeps = [[c.low - draft.between(0.05, 0.2), c.high + draft.between(0.05, 0.2)]];
    draft.plan.onLoss = draft.oneOf(['turns-back', 'sparks', 'shuts']);
  },
  'cliff at one end': (draft) => {
    const { burner, plan, chance, between, oneOf } = draft;
    const { flame } = burner;
    flame.returns = chance(0.6);
    const lean = chance(0.5);
    // Lost while the signal is still as good as on the plateau.
    if (lean) {
      flame.lostBelow = shoulderAt(burner.curve, -1, between(0.96, 0.995));
      flame.returnsAbove = flame.lostBelow + between(0.1, 0.4);
      flame.lightsAbove = flame.lostBelow + 0.05;
    } else {
      flame.lostAbove = shoulderAt(burner.curve, 1, between(0.96, 0.995));
      flame.returnsBelow = flame.lostAbove - between(0.1, 0.4);
      flame.lightsBelow = Math.min(flame.lightsBelow, flame.lostAbove - 0.05);
    }
    const past = between(0.03, 0.15);
    const other = shoulderAt(burner.curve, lean ? 1 : -1, between(0.4, 0.8));
    plan.sweeps = [lean ? [flame.lostBelow - past, other] : [flame.lostAbove + past, other]];
    plan.onLoss = oneOf(['turns-back', 'sparks', 'shuts']);
  },
  'wide shoulders': curve('logistic', (each, { between }) => {
    each.lowWidth = between(0.12, 0.2);
    each.highWidth = between(0.15, 0.3);
    each.low += 0.4;
    each.high += 0.4;
  }),
};
