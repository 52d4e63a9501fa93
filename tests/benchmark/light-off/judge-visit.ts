import { fitBothSides, lightingOf } from '../../../shared/light-off/lighting.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { burner, type DesignName, designs } from './designs.ts';
import { drawPilot, type Pilot } from './pilot.ts';

export interface Tried {
  pressure: number;
  delayS: number;
  lit: boolean;
}

export interface LightOffVerdict {
  design: DesignName;
  seed: number;
  /** Trials away from the setting, and failures anywhere. */
  outward: number;
  failures: number;
  /** Margin that is proved on both sides together, inH2O, by the definition of a light-off end. */
  margin: number;
  /** A trial beyond the limits of the burner. */
  beyond: boolean;
  /** For each interval of the model whether it holds the truth, and the truth. */
  intervals: { held: boolean; truth: number }[];
  /** Ends that failures set: the true probability to light with the spark at once there, and where the model has the end. */
  ends: { atEnd: number; narrowed: boolean; atNarrowed: number }[];
}

const confidence = 0.95;
/** The probability to which the model narrows. */
export const wanted = 0.9;

/** One visit to a pilot by a design, judged by the definition of the pilot. */
export function run({ design, seed }: { design: DesignName; seed: number }): LightOffVerdict {
  const random = createRandom(seed);
  const pilot = drawPilot(random);
  const trials: Tried[] = [];
  designs[design]((pressure, delayS) => {
    const lit = random.uniform() < pilot.lights(pressure, delayS);
    trials.push({ pressure, delayS, lit });
    return lit;
  });
  const models = fitBothSides(
    trials.map(({ pressure, delayS, lit }) => ({ pressure, unit: 'inH2O' as const, sparkDelayS: delayS, lit })),
    () => true,
    { unit: 'inH2O', center: burner.setting, toleranceAt: () => burner.tolerance },
  );
  const lighting = lightingOf(models, wanted, confidence);
  const isAway = ({ pressure }: Tried) => Math.abs(pressure - burner.setting) > burner.tolerance;
  const sides = [lighting.low, lighting.high];
  return {
    design,
    seed,
    outward: trials.filter(isAway).length,
    failures: trials.filter(({ lit }) => !lit).length,
    margin: provedTo(trials, -1) + provedTo(trials, 1),
    beyond: trials.some(({ pressure }) => pressure < burner.low - 1e-9 || pressure > burner.high + 1e-9),
    intervals: sides.flatMap((side) =>
      (side?.estimates ?? []).map(({ pressure, ci }) => {
        const truth = pilot.lights(pressure, 0);
        return { held: ci[0] <= truth && truth <= ci[1], truth };
      }),
    ),
    ends: ([-1, 1] as const).flatMap((sign) => endOf(trials, sign, pilot, sides[sign < 0 ? 0 : 1]?.reach)),
  };
}

/** Distance of the outermost pressure that lit with no failure at or inside it; a failure at the setting leaves nothing. */
export function provedTo(trials: readonly Tried[], sign: 1 | -1): number {
  const at = trials.map(({ pressure, lit }) => ({ lit, distance: sign * (pressure - burner.setting) }));
  const isSetting = ({ distance }: { distance: number }) => Math.abs(distance) <= burner.tolerance;
  if (at.some((trial) => !trial.lit && isSetting(trial))) return 0;
  const nearest = Math.min(...at.filter(({ lit, distance }) => !lit && distance > 0).map(({ distance }) => distance));
  return Math.max(0, ...at.filter(({ lit, distance }) => lit && distance < nearest).map(({ distance }) => distance));
}

/** The end that a failure sets, and where the model moves it. */
function endOf(trials: readonly Tried[], sign: 1 | -1, pilot: Pilot, reach: number | undefined) {
  const isBounded = trials.some(({ pressure, lit }) => !lit && sign * (pressure - burner.setting) > burner.tolerance);
  if (!isBounded) return [];
  const end = burner.setting + sign * provedTo(trials, sign);
  const narrowed = reach !== undefined && sign * (end - reach) > 0;
  return [{ atEnd: pilot.lights(end, 0), narrowed, atNarrowed: pilot.lights(narrowed ? reach : end, 0) }];
}
