import type { Draft, FaultPlan } from '../draft/draft.ts';
import type { Segment } from '../types.ts';
import { losesFlame } from './losses.ts';

const burning = ({ flame, gas }: Segment) => gas === 'flowing' && (flame === 'burning' || flame === 'unsteady');
const dark = ({ gas, phase }: Segment) => gas === 'shut' && phase !== 'before-gas';
const anywhere = () => true;

const fault =
  (
    meter: FaultPlan['meter'],
    kind: FaultPlan['kind'],
    seconds: [number, number],
    during = anywhere as FaultPlan['during'],
    by?: [number, number],
  ) =>
  (draft: Draft) => {
    const { between, chance, instruments, faults } = draft;
    // A frozen value shows by its noise only where the last digit is finer.
    const each = meter === 'pilot_pressure' ? instruments.manometer : instruments.signal;
    if (kind === 'frozen')
      Object.assign(each, {
        digit: meter === 'pilot_pressure' ? 0.001 : 0.0002,
        noise: 0.004,
        hz: Math.max(2, each.hz),
      });
    faults.push({
      meter,
      kind,
      seconds: between(...seconds),
      during,
      ...(by && { by: between(...by) * (chance(0.5) ? 1 : -1) }),
    });
  };

const [pressure, signal] = ['pilot_pressure', 'flame_signal'] as const;

/** Meters that fall silent, freeze, overload, lose their hose or their zero. */
export const faultKinds: Record<string, (draft: Draft) => void> = {
  'gaps of both meters': (draft) => {
    for (let k = 0; k < 3; k += 1) fault(draft.oneOf([pressure, signal]), 'silent', [1.5, 12])(draft);
  },
  'manometer silent while burning': fault(pressure, 'silent', [15, 60], burning),
  'manometer silent while shut': fault(pressure, 'silent', [15, 60], dark),
  'signal meter silent while burning': fault(signal, 'silent', [15, 60], burning),
  'signal meter silent while shut': fault(signal, 'silent', [15, 60], dark),
  'signal meter never comes back': fault(signal, 'silent', [3000, 3000], burning),
  'manometer never comes back': fault(pressure, 'silent', [3000, 3000], burning),
  'signal meter dead from the start': fault(signal, 'silent', [3000, 3000], 'start'),
  'manometer silent at the start': fault(pressure, 'silent', [20, 90], 'start'),
  'manometer frozen': fault(pressure, 'frozen', [30, 90], burning),
  'signal meter frozen': fault(signal, 'frozen', [30, 90], burning),
  'signal meter frozen, flame lost': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.plan.onLoss = 'leaves';
    fault(
      signal,
      'frozen',
      [60, 120],
      (segment) => segment.flame === 'burning' && segment.regulator.startsWith('turning'),
    )(draft);
  },
  'signal meter silent, flame lost': (draft) => {
    losesFlame(draft, draft.oneOf(['lean', 'rich']), false);
    draft.plan.onLoss = 'leaves';
    fault(
      signal,
      'silent',
      [40, 90],
      (segment) => segment.flame === 'burning' && segment.regulator.startsWith('turning'),
    )(draft);
  },
  'manometer overload': fault(pressure, 'overload', [3.5, 30], burning),
  'signal meter overload': fault(signal, 'overload', [3.5, 30], burning),
  'hose pulled off': fault(pressure, 'hose-off', [10, 40], burning),
  'zero shifts': fault(pressure, 'zero-shift', [3000, 3000], anywhere, [0.03, 0.15]),
  'zero shifts while burning': fault(pressure, 'zero-shift', [3000, 3000], burning, [0.03, 0.15]),
};
