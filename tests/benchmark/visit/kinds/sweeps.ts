import { turningPoints } from '../draft/burner.ts';
import type { Draft } from '../draft/draft.ts';

/** How the regulator is turned, how often and from where, and what lies between. */
export const sweepKinds: Record<string, (draft: Draft) => void> = {
  'nothing entered, no marks': ({ entered }) =>
    Object.assign(entered, {
      fanOnly: false,
      minimum: false,
      trialSeconds: false,
      marks: false,
      makerRange: false,
      asLeft: false,
    }),
  'in jerks': ({ turning }) => (turning.style = 'jerks'),
  'in stairs': ({ turning }) => (turning.style = 'stairs'),
  'overshoot and back': ({ turning, between }) => (turning.overshoot = between(0.1, 0.3)),
  'fast sweep': ({ turning }) => Object.assign(turning, { style: 'smooth', speed: turning.speed * 3.5 }),
  'several sweeps': (draft) => {
    const { plan, burner, oneOf } = draft;
    plan.sweeps = [Array.from({ length: oneOf([2, 3]) }, () => turningPoints(draft, burner)).flat()];
  },
  'idle minutes between sweeps': (draft) => {
    const { plan, burner, between } = draft;
    plan.sweeps = [turningPoints(draft, burner), turningPoints(draft, burner)];
    plan.breakS = between(90, 240);
  },
  'low side only': ({ plan }) => (plan.sweeps = [[Math.min(...plan.sweeps[0]!)]]),
  'high side only': ({ plan }) => (plan.sweeps = [[Math.max(...plan.sweeps[0]!)]]),
  'middle only': ({ plan, burner: { curve }, between }) => {
    const width = curve.high - curve.low;
    plan.sweeps = [[curve.low + between(0.2, 0.35) * width, curve.low + between(0.65, 0.8) * width]];
  },
  'recording begins and ends lit': ({ plan }) => Object.assign(plan, { startsLit: true, endsLit: true }),
  'shut at the low end': ({ plan }) => {
    plan.sweeps = [[Math.max(...plan.sweeps[0]!), Math.min(...plan.sweeps[0]!)]];
    plan.shutAtEnd = true;
  },
  'shut at the high end': ({ plan }) => {
    plan.sweeps = [[Math.min(...plan.sweeps[0]!), Math.max(...plan.sweeps[0]!)]];
    plan.shutAtEnd = true;
  },
  'long idle before and after': ({ plan, between }) => (plan.idleS = [between(120, 300), between(120, 300)]),
  'spring ends before the window': ({ burner, plan, between, chance }) => {
    const { curve, regulator } = burner;
    const inside = (curve.high - curve.low) * between(0.08, 0.25);
    if (chance(0.5)) regulator.springHigh = curve.high - inside;
    else regulator.springLow = curve.low + inside;
    plan.sweeps = [[curve.low - 0.3, curve.high + 0.3]];
  },
};
