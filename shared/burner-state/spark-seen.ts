import type { FlameState, GasState } from '../model/burner-words.ts';
import { stepS } from './chain/states.ts';

/** Follows how strong a signal came up without gas: that of a spark which the detector sees, as in an igniter test. */
export interface SparkSeen {
  /** One more step of the chain, with what it says and the last reading of the signal, in its unit. */
  step(now: { gas: GasState; flame: FlameState }, signal: number): void;
  /** The strongest that stood for a while, in the signal's unit; undefined before there was one. */
  signal(): number | undefined;
}

/** What glows after a flame was never dark; a spark comes after a signal that was dark for so long, seconds. */
const darkForS = 2;
/** It has stood for so long when it counts, seconds: the end of a fall, or a reading by itself, is none. */
const stoodForS = 1;

/** Makes one. */
export function createSparkSeen(): SparkSeen {
  let darkS = 0;
  let stoodS = 0;
  let isSpark = false;
  let last: number[] = [];
  /** What stands now, and counts once it has ended in the dark: a signal over which gas comes on is asked about by itself. */
  let standing: number | undefined;
  let strongest: number | undefined;
  return {
    step({ gas, flame }, signal) {
      const isBright = gas === 'shut' && flame === 'unknown';
      const isDark = gas === 'shut' && (flame === 'dark' || flame === 'out');
      if (isBright) isSpark ||= darkS >= darkForS;
      else if (gas !== 'unknown') isSpark = false;
      if (!isBright && gas !== 'unknown') darkS = isDark ? darkS + stepS : 0;
      stoodS = isBright && isSpark ? stoodS + stepS : 0;
      last = stoodS > 0 ? [...last, signal].slice(-Math.round(stoodForS / stepS)) : [];
      if (stoodS >= stoodForS) standing = Math.max(standing ?? -Infinity, Math.min(...last));
      if (isDark && standing !== undefined) strongest = Math.max(strongest ?? -Infinity, standing);
      if (!isBright && gas !== 'unknown') standing = undefined;
    },
    signal: () => strongest,
  };
}
