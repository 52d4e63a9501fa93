import { convertPressure, type PressureUnit } from '../../../model/units.ts';
import type { StateSpan } from '../../../burner-state/track.ts';
import { bootstrapInterval, coverage, type Estimate, exactEstimate } from '../../curve/estimate.ts';
import { replicatesOf } from '../../curve/bootstrap.ts';
import type { FittedCurve } from '../../curve/fit-curve.ts';
import { lastTime, pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';
import { leastTurnInH2O } from '../../sweep/flame/falls.ts';
import { lossesWithGasOn } from '../../sweep/flame/losses-with-gas-on.ts';
import { longestLag } from '../../sweep/series/initial-estimates.ts';
import { type MomentUncertainty, withMoment } from '../ends/loss-moment.ts';
import type { SignalEnd, SignalInterval } from '../ends/signal-interval.ts';
import type { FittedLoss } from './middle-losses.ts';

/** A flame lost at one pressure that came back at another, farther inside, with gas on and no light-off on record; the sweep's unit. */
export interface FlameHysteresis {
  side: 'low' | 'high';
  lostAt: number;
  returned: Estimate;
  /** It came back while the regulator stood still: by itself after a while, or by a spark that nobody recorded. */
  isAtRest: boolean;
}

/** A light-off belongs to a return of the flame from so long before it: a clock read by hand is no better. */
const aroundS = 2;
/** The regulator was being turned when the flame came back if it was at some time within so many seconds before. */
const beforeS = 1;
/**
 * Hot metal and refractory light the gas within so many seconds after the last turn or not at all; what lights it later is a spark, on record or
 * not. Seconds, common practice.
 */
const soonS = 3;

/** Where the flame goes in a jerk of the hand the gas may be unknown for less than this, seconds; a valve shuts for longer. */
const unknownS = 2;

/** Whether gas flowed all the time between two moments, and no light-off is on record there. */
function isLeftAlone(fromS: number, toS: number, spans: readonly StateSpan[], lightOffs: readonly number[]): boolean {
  const between = spans.filter(({ from_s, to_s }) => from_s < toS && to_s > fromS);
  return (
    between.length > 0 &&
    between.every(({ gas, from_s, to_s }) => gas === 'flowing' || (gas === 'unknown' && to_s - from_s < unknownS)) &&
    !lightOffs.some((s) => s > fromS - aroundS && s < toS + aroundS)
  );
}

/** Whether the regulator was being turned within so many seconds before a moment. */
const wasTurned = (
  atS: number,
  withinS: number,
  lagU: number,
  grid: PressureGrid,
  leastTurn: number,
  spans: readonly StateSpan[],
): boolean => {
  // A lag that is not known moves the moment, and with it what came before.
  const fromS = atS - withinS - Math.min(longestLag, coverage * lagU);
  return (
    Math.abs(pressureAt(grid, atS + beforeS / 4) - pressureAt(grid, fromS)) > leastTurn ||
    spans.some(
      ({ from_s, to_s, regulator }) =>
        from_s < atS && to_s > fromS && (regulator === 'turning-in' || regulator === 'turning-out'),
    )
  );
};

/** A loss after which the flame burned again, as somebody tells it: the fit, or the states. */
interface ToldReturn {
  lostS: number;
  relitS: number;
  lostAt: number;
  returned: Estimate;
}

/** Those of the fit. */
const fittedReturns = (
  losses: readonly FittedLoss[],
  { replicates, degrees }: FittedCurve,
  grid: PressureGrid,
  { confidence, ...uncertainty }: MomentUncertainty & { confidence: number },
): ToldReturn[] =>
  losses
    .filter(({ lostS, relitS }) => relitS > lostS && relitS < Infinity)
    .map(({ lostS, relitS, lostAt, relitParameter }) => {
      const drawn = replicatesOf(replicates, relitParameter).map((s) => pressureAt(grid, s));
      const estimate = bootstrapInterval(pressureAt(grid, relitS), drawn, confidence, degrees.both);
      return { lostS, relitS, lostAt, returned: withMoment(estimate, grid, relitS, uncertainty) };
    });

/** The states tell a moment to so many seconds: they look at a tenth of a second at a time, through a lag that they estimate themselves. */
const statesU = 0.5;

/**
 * Those that the states tell and the fit does not have: a steep shoulder with a lag that is too long follows a flame that is lost at one
 * pressure and back at another just as well.
 */
const trackedReturns = (
  spans: readonly StateSpan[],
  fitted: readonly FittedLoss[],
  interval: SignalInterval,
  grid: PressureGrid,
  { timeU, pressureU }: MomentUncertainty,
): ToldReturn[] =>
  lossesWithGasOn(spans).flatMap(({ fromS, isForGood }) => {
    const again = spans.find(({ from_s, flame }) => from_s > fromS && (flame === 'lighting' || flame === 'burning'));
    if (isForGood || !again) return [];
    const relitS = again.from_s;
    // What happened outside of the sweep has no pressure here.
    if (fromS < grid.startS || relitS > lastTime(grid)) return [];
    if (fitted.some((loss) => loss.lostS < relitS && loss.relitS > fromS)) return [];
    const lostAt = pressureAt(grid, fromS);
    const isAtEnd = (end: SignalEnd | undefined, by: 1 | -1) =>
      end?.bounded && end.flameLost && (lostAt - end.ci[by < 0 ? 1 : 0]) * by >= 0;
    if (!isAtEnd(interval.low, -1) && !isAtEnd(interval.high, 1)) return [];
    const uncertainty = { timeU: Math.hypot(timeU, statesU), pressureU };
    const returned = withMoment(exactEstimate(pressureAt(grid, relitS)), grid, relitS, uncertainty);
    return [{ lostS: fromS, relitS, lostAt, returned }];
  });

/**
 * The losses of the flame after which it came back by itself as far as anybody knows: gas flowed all the while, and no light-off is on
 * record. One that came back at rest, soon after a turn, may have needed a moment, or have been lit by a spark that nobody recorded: its
 * interval reaches out to where it was lost, and until that spark is on record nothing is proved between the two.
 *
 * @param losses     fitted ones that end the signal interval or lie beyond its end
 * @param lightOffs  moments at which a light-off is on record, seconds
 */
export function flameHysteresisOf(
  losses: { atEnds: readonly FittedLoss[]; fitted: readonly FittedLoss[] },
  fitted: FittedCurve,
  interval: SignalInterval,
  grid: PressureGrid,
  spans: readonly StateSpan[],
  lightOffs: readonly number[],
  { unit, ...uncertainty }: MomentUncertainty & { confidence: number; unit: PressureUnit },
): FlameHysteresis[] {
  const { tested, lag } = fitted;
  const leastTurn = convertPressure(leastTurnInH2O, 'inH2O', unit);
  const told = [
    ...fittedReturns(losses.atEnds, fitted, grid, uncertainty),
    ...trackedReturns(spans, losses.fitted, interval, grid, uncertainty),
  ];
  return told.flatMap(({ lostS, relitS, lostAt, returned }): FlameHysteresis[] => {
    if (!isLeftAlone(lostS, relitS, spans, lightOffs)) return [];
    const side = lostAt - tested[0] < tested[1] - lostAt ? 'low' : 'high';
    const inwards = side === 'low' ? returned.value - lostAt : lostAt - returned.value;
    const turnedWithin = (seconds: number) => wasTurned(relitS, seconds, lag.standardError, grid, leastTurn, spans);
    if (turnedWithin(beforeS)) return inwards > 0 ? [{ side, lostAt, returned, isAtRest: false }] : [];
    // A draft blows a flame out and lets it come back where it was.
    if (inwards <= leastTurn || !turnedWithin(soonS)) return [];
    const [low, high] = returned.ci;
    const ci: [number, number] = side === 'low' ? [Math.min(low, lostAt), high] : [low, Math.max(high, lostAt)];
    return [{ side, lostAt, returned: { ...returned, ci }, isAtRest: true }];
  });
}
