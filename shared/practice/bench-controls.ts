import type { ControlSettings, ControlState } from './control.ts';
import { settingLimits } from './control.ts';

/** What a pilot valve can suffer from. `stuck-open`: once open it does not shut; `leaking`: shut, it lets some gas through. */
export type ValveCondition = 'sound' | 'stuck-open' | 'leaking';

/** What a meter can suffer from. `dead`: it sends nothing; `frozen`: it sends its last reading for ever. */
export type MeterCondition = 'sound' | 'dead' | 'frozen';

/** What stays as it was left until somebody changes it. */
export interface BenchControls {
  /** Turns of the regulator screw from its lower stop. */
  turns: number;
  /** A burner control operates valve, spark and fan; else they are operated by hand, with no flame safeguard. */
  hasControl: boolean;
  pilotValve: boolean;
  spark: boolean;
  fan: boolean;
  callForHeat: boolean;
  testSwitch: 'hold-pilot' | 'run';
  /** The test switch is jumpered: a flame lost in the held pilot shuts nothing. */
  jumpered: boolean;
  settings: ControlSettings;
  valve: ValveCondition;
  manometer: MeterCondition;
  multimeter: MeterCondition;
}

/** What somebody does at the bench; keys left out stay as they are. */
export type BenchAction = Partial<Omit<BenchControls, 'settings'>> & {
  settings?: Partial<ControlSettings>;
  /** Presses the reset button of the control. */
  reset?: boolean;
  /** A gust blows the flame off. */
  blowOff?: boolean;
};

/** The bench as one sees it; `pilotValve` is whether the valve is energized, which a stuck one does not follow. */
export interface BenchState extends BenchControls {
  scenario: string;
  scenarios: { name: string; description: string }[];
  turnsMax: number;
  /** Whether the flame burns: what one would see through the sight port. */
  flame: boolean;
  /** State of the control; undefined by hand. */
  sequence?: ControlState;
  /** Whole seconds until that state is over by itself. */
  secondsLeft?: number;
}

/** The controls after an action. A number beyond what the bench has is taken to the nearest one; no number changes nothing. */
export function afterAction(controls: BenchControls, action: BenchAction, turnsMax: number): BenchControls {
  const hasControl = action.hasControl ?? controls.hasControl;
  const isTakenOver = hasControl && !controls.hasControl;
  // A control operates these three itself.
  const byHand = hasControl ? {} : action;
  return {
    turns: within(action.turns, [0, turnsMax]) ?? controls.turns,
    hasControl,
    pilotValve: byHand.pilotValve ?? controls.pilotValve,
    spark: byHand.spark ?? controls.spark,
    fan: byHand.fan ?? controls.fan,
    // A control that takes over stands by until heat is called.
    callForHeat: action.callForHeat ?? (isTakenOver ? false : controls.callForHeat),
    testSwitch: action.testSwitch ?? controls.testSwitch,
    jumpered: action.jumpered ?? controls.jumpered,
    settings: action.settings ? afterSetting(controls.settings, action.settings) : controls.settings,
    valve: action.valve ?? controls.valve,
    manometer: action.manometer ?? controls.manometer,
    multimeter: action.multimeter ?? controls.multimeter,
  };
}

function afterSetting(settings: ControlSettings, change: Partial<ControlSettings>): ControlSettings {
  const { onFlameFailure, ...times } = change;
  const next: ControlSettings = { ...settings, ...(onFlameFailure && { onFlameFailure }) };
  for (const key of Object.keys(settingLimits) as (keyof typeof settingLimits)[])
    next[key] = within(times[key], settingLimits[key]) ?? next[key];
  return next;
}

const within = (value: number | undefined, [least, most]: readonly [number, number]): number | undefined =>
  value === undefined || !Number.isFinite(value) ? undefined : Math.min(Math.max(value, least), most);
