import type { Curve, CurveFamily } from '../burner/curves.ts';
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
  'wide shoulders': curve('logistic', (each, { between }) => {
    each.lowWidth = between(0.12, 0.2);
    each.highWidth = between(0.15, 0.3);
    each.low += 0.4;
    each.high += 0.4;
  }),
};
