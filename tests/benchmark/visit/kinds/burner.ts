import { longestPulseS } from '../burner/facts.ts';
import type { Draft } from '../draft/draft.ts';

/** Sets the fan-only pressure and everything that has to lie above it. */
function fanOnly({ burner }: Draft, pressure: number): void {
  const { fan, regulator, flame, curve } = burner;
  fan.only = pressure;
  regulator.springLow = Math.max(0.1, pressure + 0.05);
  flame.lostBelow = Math.max(flame.lostBelow, pressure + 0.12);
  flame.lightsAbove = Math.max(flame.lightsAbove, flame.lostBelow + 0.05);
  curve.low = Math.max(curve.low, pressure + 0.4);
}

const leaking = (share: [number, number], fallS: [number, number]) => (draft: Draft) => {
  const { burner, between, oneOf } = draft;
  burner.valve.leak = { share: between(...share), fallS: between(...fallS), fromShut: oneOf([1, 2]) };
  draft.plan.trials = draft.plan.trials.slice(0, 1);
  draft.plan.endsLit = false;
};

/** Fan, regulator, valve and detector that are not as they should be. */
export const burnerKinds: Record<string, (draft: Draft) => void> = {
  'high fan-only pressure, not entered': (draft) => {
    fanOnly(draft, draft.between(0.4, 0.6));
    draft.entered.fanOnly = false;
  },
  'high fan-only pressure, entered': (draft) => {
    fanOnly(draft, draft.between(0.4, 0.6));
    draft.entered.fanOnly = true;
  },
  'more air in a purge': (draft) => {
    const { burner, plan, between } = draft;
    fanOnly(draft, between(0.15, 0.4));
    Object.assign(burner.fan, { purgeTimes: between(1.3, 3), damperS: between(4, 25) });
    plan.purgeS = 2 * burner.fan.damperS + between(10, 40);
    draft.entered.fanOnly = true;
  },
  'no fan-only pressure': (draft) => fanOnly(draft, 0),
  'fan off before the start': (draft) => {
    fanOnly(draft, draft.between(0.3, 0.6));
    draft.plan.fanFromStart = false;
    draft.entered.fanOnly = false;
    draft.burner.fan.spinS = draft.between(1, 4);
  },
  'sticky first opening': ({ burner, between }) => (burner.regulator.stickyS = between(1, 4)),
  'lock-up overshoot': ({ burner, between }) =>
    Object.assign(burner.regulator, { lockUp: between(0.25, 0.6), lockUpS: between(0.4, 1.5) }),
  'slow creep': ({ burner, between }) =>
    Object.assign(burner.regulator, { creep: between(0.04, 0.12), creepS: between(6, 25) }),
  'wide hysteresis': ({ burner, between }) => (burner.regulator.hysteresis = between(0.1, 0.25)),
  'slow valve': ({ burner, between }) =>
    Object.assign(burner.valve, { openS: between(0.8, 2), riseS: between(0.3, 0.6), fallS: between(0.5, 1) }),
  'leaks out slowly': leaking([0.005, 0.02], [4, 20]),
  'leaks on': leaking([0.15, 0.5], [0.4, 3]),
  'valve stuck open': leaking([1, 1], [0.3, 0.3]),
  'self-checking detector': ({ burner, between }) =>
    (burner.detector.shutter = { periodS: between(4, 20), closedS: between(0.2, longestPulseS) }),
  'slow detector': ({ burner, between }) =>
    Object.assign(burner.detector, { deadS: between(0.5, 1), lagS: between(1.8, 3) }),
  'clipped signal': ({ burner, between }) => (burner.detector.clip = burner.detector.dark + between(0.6, 0.85)),
  'spark seen by the detector': ({ burner, between }) =>
    Object.assign(burner.detector, { sparkAdds: between(0.08, 0.15), dark: between(0.02, 0.06) }),
  'warms up': ({ burner, between }) =>
    Object.assign(burner.detector, { warmUp: between(0.05, 0.08), warmUpS: between(90, 300) }),
  'unsteady shoulders': ({ burner, between }) =>
    Object.assign(burner.detector, { shoulderFlicker: between(0.2, 0.4), flickerS: between(0.4, 1.5) }),
  'unsteady throughout': ({ burner, between }) =>
    Object.assign(burner.detector, {
      flicker: between(0.25, 0.35),
      flickerS: between(0.8, 1.5),
      lagS: between(0.2, 0.5),
    }),
  gusts: ({ burner, between }) => (burner.detector.gustEveryS = between(15, 40)),
};
