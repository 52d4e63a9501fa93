import { formatConfidence, formatPercent, formatPressure, formatRange, formatSeconds } from '../model/format.ts';
import type { Lighting, LightingSide } from '../model/results/lighting.ts';
import type { PressureUnit } from '../model/units.ts';
import type { TriedPoint } from './lighting-model.ts';

/**
 * What the lighting model says, a sentence or two for each side, and that it changes nothing where the trials do not show that lighting
 * falls off. Empty where it has no trials.
 *
 * @param confidence  of its intervals
 */
export function lightingWords(lighting: Lighting, unit: PressureUnit, confidence: number): string[] {
  const { low, high, leftOut, wanted } = lighting;
  const left =
    leftOut === 1
      ? 'One trial is left out: the moment of its spark is not known, or its pressure moved.'
      : `${leftOut} trials are left out: the moment of the spark is not known, or the pressure moved.`;
  return [
    ...(low ? [sideWords('low', low, wanted, unit, confidence)] : []),
    ...(high ? [sideWords('high', high, wanted, unit, confidence)] : []),
    ...(leftOut > 0 ? [left] : []),
    ...(low?.fallsOff || high?.fallsOff ? [modelWords] : []),
  ];
}

/** A misfire now and then, whatever the pressure, is outside of it. */
const modelWords =
  'The model takes a failure to come from pressure and spark alone; a pilot that misfires now and then lights less often than it says.';

function sideWords(
  side: 'low' | 'high',
  { trials, lit, estimates, fallsOff, reach }: LightingSide,
  wanted: number,
  unit: PressureUnit,
  confidence: number,
): string {
  const count = `${side === 'low' ? 'Low' : 'High'} side: ${lit} of ${trials} lit.`;
  if (lit === trials) return `${count} No failure shows where lighting ends.`;
  if (lit === 0) return `${count} Nothing shows where lighting begins.`;
  const outermost = side === 'low' ? estimates[0] : estimates.at(-1);
  return [
    count,
    outermost
      ? `At ${formatPressure(outermost.pressure, unit)}, the ${side}est tried with the spark at once: estimate ${formatPercent(outermost.probability)}, ${boundsOf(outermost)} at ${formatConfidence(confidence)} confidence.`
      : 'The trials do not tell what the pressure did and what the spark.',
    endWords(),
  ].join(' ');

  function endWords(): string {
    if (!fallsOff) return 'Too few trials for this model to show where it falls off, so it moves no end.';
    if (reach === undefined) return `It falls off outward and nowhere reaches ${formatPercent(wanted)}.`;
    return `It falls off outward: under ${formatPercent(wanted)} ${side === 'low' ? 'below' : 'above'} ${formatPressure(reach, unit)}, so the guarded end lies inside that.`;
  }
}

/**
 * The longest spark delay that lit at each pressure, and the shortest that failed there. Empty where no spark was delayed.
 *
 * @param tried  trials with a known spark, seconds after gas; pressures in `unit`
 */
export function longestDelayWords(tried: readonly TriedPoint[], unit: PressureUnit): string[] {
  const byPressure = Map.groupBy(
    tried.toSorted((a, b) => a.pressure - b.pressure),
    ({ pressure }) => formatPressure(pressure, unit),
  );
  const each = [...byPressure].flatMap(([at, trials]) => {
    if (trials.every(({ delayS }) => delayS === 0)) return [];
    const delays = (isLit: boolean) => trials.filter(({ lit }) => lit === isLit).map(({ delayS }) => delayS);
    const longest = delays(true).length > 0 ? formatSeconds(Math.max(...delays(true))) : 'none';
    const failed = delays(false).length > 0 ? `, where ${formatSeconds(Math.min(...delays(false)))} failed` : '';
    return [`${longest} at ${at}${failed}`];
  });
  return each.length > 0 ? [`Longest spark delay that lit: ${each.join('; ')}.`] : [];
}

/** Never "at least", which is said of what the trials at a setting prove. */
const boundsOf = ({ ci: [from, to] }: LightingSide['estimates'][number]): string =>
  from === 0 ? `at most ${formatPercent(to)}` : formatRange(formatPercent(from), formatPercent(to));
