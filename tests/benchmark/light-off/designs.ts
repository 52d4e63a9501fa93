import { advise } from '../../../shared/advice/advise.ts';
import type { CountedTrial } from '../../../shared/light-off/at-setting.ts';
import { nextLanglie } from '../../../shared/light-off/sensitivity/langlie.ts';
import { nextNeyer } from '../../../shared/light-off/sensitivity/neyer.ts';
import { nextUpAndDown, type Response } from '../../../shared/light-off/sensitivity/up-and-down.ts';

/** The burner of every visit, inH2O and seconds: a setting, its tolerance, and what maker and technician allow. */
export const burner = { setting: 2.4, tolerance: 0.1, low: 1.4, high: 3.8, delayS: 5, trialSeconds: 10 } as const;

/** Makes one trial and tells whether it lit. */
export type TryAt = (pressure: number, delayS: number) => boolean;

/** How the trials of a visit are chosen, all with the plan at the setting first. */
export const designs = {
  'as advised': (tryAt: TryAt) => advised(tryAt, 1),
  'as advised, two failures a side': (tryAt: TryAt) => advised(tryAt, 2),
  'evenly spaced': (tryAt: TryAt) => onBothSides(tryAt, (before, reach) => evenly(before, reach)),
  'evenly spaced until a failure': (tryAt: TryAt) =>
    onBothSides(tryAt, (before, reach) =>
      before.some(({ responded }) => responded) ? undefined : evenly(before, reach),
    ),
  'up and down': (tryAt: TryAt) =>
    onBothSides(tryAt, (before, reach) => {
      const last = before.at(-1);
      return last ? nextUpAndDown(last, reach / perSide) : reach / 2;
    }),
  Langlie: (tryAt: TryAt) => onBothSides(tryAt, (before, reach) => nextLanglie(before, 0, reach)),
  // The guess of the deviation: a tenth of the reach.
  Neyer: (tryAt: TryAt) =>
    onBothSides(tryAt, (before, reach) => nextNeyer(before, { low: 0, high: reach, sigma: reach / 10 })),
} as const;
export type DesignName = keyof typeof designs;

/** Trials on each side of the setting; as many as the advice makes at most. */
const perSide = 4;

const evenly = (before: readonly Response[], reach: number): number => (reach * (before.length + 1)) / perSide;

/** The plan at the setting, and then a test of the threshold on each side: its stimulus is the distance, its response a failure to light. */
function onBothSides(tryAt: TryAt, next: (before: readonly Response[], reach: number) => number | undefined): void {
  for (const delayS of [0, 0, 0, burner.delayS]) tryAt(burner.setting, delayS);
  for (const sign of [-1, 1] as const) {
    const reach = sign < 0 ? burner.setting - burner.low : burner.high - burner.setting;
    const before: Response[] = [];
    while (before.length < perSide) {
      const wanted = next(before, reach);
      if (wanted === undefined) break;
      // No nearer than what counts as the setting, no farther than the limit, and as it can be set.
      const level = Math.round(100 * Math.min(reach, Math.max(1.5 * burner.tolerance, wanted))) / 100;
      before.push({ level, responded: !tryAt(burner.setting + sign * level, 0) });
    }
  }
}

/** Every trial that is advised and no other. */
function advised(tryAt: TryAt, mostFailures: number): void {
  const trials: CountedTrial[] = [];
  for (;;) {
    const { next } = advise({
      unit: 'inH2O',
      setting: { pressure: burner.setting, tolerance: burner.tolerance, words: 'the pressure as left' },
      window: { low: 1.2, high: 4, guarded: { low: 1.25, high: 3.95 } },
      tested: { low: 0.8, high: 4.5 },
      makerRange: { low: burner.low, high: burner.high },
      limits: { longestDelayS: burner.delayS, mostFailures },
      plan: { plain: 3, delayed: 1 },
      trialSeconds: burner.trialSeconds,
      trials,
      moved: () => false,
      obstacles: [],
      notes: [],
    });
    if (!next) return;
    const lit = tryAt(next.pressure, next.sparkDelay_s);
    trials.push({ pressure: next.pressure, unit: 'inH2O', sparkDelayS: next.sparkDelay_s, lit });
  }
}
