import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import type { HostContext } from '../host-context.ts';

/** Tells a signal that is much weaker than what the flame gave at the same pressure before: the detector may see no more than the spark. */
export interface WeakSignal {
  /** One more statement about the burner. `inTrial`: the time of a light-off trial runs, so that what burns teaches nothing. */
  step(now: BurnerNow, inTrial: boolean): void;
  /** It has been so for longer than a flame takes to build up. */
  isWeak(): boolean;
}

/** Less than this share of what the flame gave is weak. */
const weakShare = 0.5;
/** The same pressure is one within this share of it. */
const samePressure = 0.1;
/** A signal that builds up is weak for less, seconds. */
const weakForS = 1.5;
/** A flame that has burned on for so long was not being shut off, seconds. */
const burnsOnS = 2;
/** Both meters are read over the last half second. */
const meanOverMs = 500;

/** Makes one, which knows nothing before a flame has burned outside of a trial. */
export function createWeakSignal(context: () => HostContext): WeakSignal {
  /** What the flame last gave, in the signal's unit above dark, and at which pressure, inH2O. */
  let flame: { signal: number; unit: string; pressure: number } | undefined;
  /** What counts as that once the flame has burned on for a while: a valve that closes lets both fall. */
  let taken: { shown: NonNullable<typeof flame>; atS: number } | undefined;
  let sinceS: number | undefined;
  let lastS = 0;
  const shown = (now: BurnerNow) => {
    const { live, clock } = context();
    const nowMs = clock.monotonicMs();
    const [pressure, signal] = [
      live.mean('pilot_pressure', meanOverMs, nowMs),
      live.mean('flame_signal', meanOverMs, nowMs),
    ];
    return (
      pressure &&
      signal && {
        signal: signal.value - now.levels.dark,
        unit: signal.unit,
        pressure: convertPressure(pressure.value, pressure.unit as PressureUnit, 'inH2O'),
      }
    );
  };
  return {
    step(now, inTrial) {
      const { gas, flame: state } = now.moment;
      const burns = gas === 'flowing' && (state === 'burning' || state === 'unsteady') && now.latest.gas === 'flowing';
      const seen = burns ? shown(now) : undefined;
      if (!seen || inTrial) taken = undefined;
      else if (!taken || now.atS - taken.atS >= burnsOnS) {
        if (taken) flame = taken.shown;
        taken = { shown: seen, atS: now.atS };
      }
      const isSame =
        seen && flame?.unit === seen.unit && Math.abs(seen.pressure - flame.pressure) <= samePressure * flame.pressure;
      const isWeakNow = inTrial && isSame && seen.signal < weakShare * flame!.signal;
      sinceS = isWeakNow ? (sinceS ?? now.atS) : undefined;
      lastS = now.atS;
    },
    isWeak: () => sinceS !== undefined && lastS - sinceS >= weakForS,
  };
}
