import { shoulderAt } from '../burner/curves.ts';
import { longestPulseS } from '../burner/facts.ts';
import type { Draft } from '../draft/draft.ts';

const steady = (more: (draft: Draft) => void) => (draft: Draft) => {
  const { plan, between } = draft;
  plan.sweeps = [];
  plan.trials = [];
  plan.holdS = between(620, 700);
  more(draft);
};

const selfCheck = ({ burner, between }: Draft) =>
  (burner.detector.shutter = { periodS: between(4, 20), closedS: between(0.2, longestPulseS) });

/** Burns at its setting for more than ten minutes, so that false alarms can be counted. */
export const steadyKinds: Record<string, (draft: Draft) => void> = {
  'steady with flicker': steady(({ burner, between }) => (burner.detector.flicker = between(0.02, 0.05))),
  'steady with self-checks': steady(selfCheck),
  'steady with flicker and self-checks': steady((draft) => {
    draft.burner.detector.flicker = draft.between(0.02, 0.05);
    selfCheck(draft);
  }),
  'steady with gusts': steady(({ burner, between }) => (burner.detector.gustEveryS = between(20, 60))),
  'steady on a shoulder': steady(({ burner, plan, between, oneOf }) => {
    plan.asFound = shoulderAt(burner.curve, oneOf([-1, 1]), between(0.6, 0.85));
    burner.flame.lightsAbove = Math.min(burner.flame.lightsAbove, plan.asFound - 0.02);
    burner.flame.lightsBelow = Math.max(burner.flame.lightsBelow, plan.asFound + 0.02);
  }),
  'steady, slow meters': steady(({ instruments, oneOf }) => {
    instruments.manometer.hz = oneOf([0.5, 1]);
    instruments.signal.hz = oneOf([0.5, 1]);
  }),
  'steady, fast meters with self-checks': steady((draft) => {
    draft.instruments.manometer.hz = draft.oneOf([20, 50]);
    draft.instruments.signal.hz = draft.oneOf([20, 50]);
    selfCheck(draft);
  }),
  'steady, clipped and warming up': steady(({ burner, between }) => {
    burner.detector.clip = burner.detector.dark + between(0.6, 0.98);
    Object.assign(burner.detector, { warmUp: between(0.05, 0.08), warmUpS: between(90, 300) });
  }),
};
