import { hasLaterSpark } from '../light-off/delay-limit.ts';
import { sparkTiming } from '../light-off/at-setting.ts';
import type { Response } from '../light-off/sensitivity/up-and-down.ts';
import { convertPressure } from '../model/units.ts';
import type { Situation } from './situation.ts';

/** What the trials show on one side of a setting. Distances are counted outward from it and never negative. */
export interface Side {
  name: 'low' | 'high';
  /** Distance of the outermost pressure that lit with no failure at or inside it; 0 where none did. */
  proved: number;
  /** The innermost of all limits on this side: its distance, its pressure and which one it is. */
  reach: number;
  limit: number;
  limitedBy: string;
  /** The maker's range or an agreed limit bounds it; without, it is not tried. */
  isLimited: boolean;
  /** Distance at which it is taken to fail for sure: at the nearest failure, else at twice the distance to the end of the guarded window. */
  fails: number;
  /** What was proved when it last failed on this side; 0 where it never did. From there the risk of going outward is counted. */
  start: number;
  /** Failures on this side, beyond the tolerance of the setting. */
  failures: number;
  /**
   * Trials beyond the tolerance of the setting; and of them, as a test of the threshold takes them, those with the spark at once and every
   * failure, since no test goes on beyond one.
   */
  made: number;
  responses: readonly Response[];
  /** Pressures of failures beyond which it lit with a spark that came no earlier. */
  contradicting: number[];
  /** Not to be tried further. */
  closed: boolean;
}

/**
 * Judges one side of a setting. A failure at the setting itself closes both sides: nothing beyond a failure is proved (the definition of
 * a light-off end). A trial at a pressure that moved proves nothing when it lit, and counts when it failed.
 */
export function sideOf(name: 'low' | 'high', situation: Situation, setting: NonNullable<Situation['setting']>): Side {
  const { unit, limits, trials, moved } = situation;
  const outward = (pressure: number) => (name === 'high' ? 1 : -1) * (pressure - setting.pressure);
  const tried = trials.map((trial) => {
    const pressureHere = convertPressure(trial.pressure, trial.unit, unit);
    return {
      ...trial,
      pressureHere,
      distance: outward(pressureHere),
      proves: trial.lit && !moved(trial) && isSeenThere(situation, pressureHere),
    };
  });
  const failedAtSetting = tried.some(({ lit, distance }) => !lit && Math.abs(distance) <= setting.tolerance);
  const failed = tried.filter(({ lit, distance }) => !lit && distance > setting.tolerance);
  const nearest = Math.min(...failed.map(({ distance }) => distance));
  const lit = tried.filter(({ proves }) => proves).map(({ distance }) => distance);
  const proved = failedAtSetting ? 0 : Math.max(0, ...lit.filter((distance) => distance < nearest));
  const last = tried.findLastIndex((trial) => failed.includes(trial));
  const before = tried.slice(0, last + 1).filter(({ proves, distance }) => proves && distance < nearest);
  const limit = reachOf(name, situation, outward);
  const isLimited = situation.makerRange?.[name] !== undefined || limits[name] !== undefined;
  const held = situation.window ? Math.max(0, outward(situation.window.guarded[name])) : limit.reach;
  return {
    name,
    proved,
    ...limit,
    isLimited,
    fails: Math.min(nearest, 2 * held),
    start: failedAtSetting ? 0 : Math.max(0, ...before.map(({ distance }) => distance)),
    failures: failed.length,
    made: tried.filter(({ distance }) => distance > setting.tolerance).length,
    responses: tried
      .filter(({ distance, proves, lit }) => distance > setting.tolerance && (proves || !lit))
      .filter((trial) => !trial.lit || sparkTiming(trial.sparkDelayS, situation.trialSeconds) === 'plain')
      .map(({ distance, lit: didLight }) => ({ level: distance, responded: !didLight })),
    contradicting: failed
      .filter((trial) =>
        tried.some((other) => other.proves && other.distance > trial.distance && !hasLaterSpark(trial, other)),
      )
      .map(({ pressureHere }) => pressureHere),
    closed: !isLimited || failedAtSetting || failed.length >= limits.mostFailures,
  };
}

/**
 * Whether a flame was seen well at a pressure: one that is written down as lit outside of the sweep, or where the signal is not good, is rather
 * a wrong pressure than a proof.
 */
function isSeenThere({ tested, window }: Situation, pressure: number): boolean {
  const isIn = ({ low, high }: { low: number; high: number }) => pressure >= low && pressure <= high;
  return isIn(tested) && (!window || isIn(window));
}

/** The innermost limit of a side. */
function reachOf(
  name: 'low' | 'high',
  { window, makerRange, limits, tested }: Situation,
  outward: (pressure: number) => number,
): Pick<Side, 'reach' | 'limit' | 'limitedBy'> {
  const bounds: [limitedBy: string, pressure: number | undefined][] = [
    ['the pressures of the sweep', tested[name]],
    ['the window inside its guard band', window?.guarded[name]],
    ["the maker's range", makerRange?.[name]],
    ['the limit that was agreed', limits[name]],
  ];
  return bounds
    .flatMap(([limitedBy, limit]) =>
      limit === undefined ? [] : [{ limitedBy, limit, reach: Math.max(0, outward(limit)) }],
    )
    .reduce((nearest, bound) => (bound.reach < nearest.reach ? bound : nearest));
}
