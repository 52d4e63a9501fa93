import { exp } from '../../numerics/elementary.ts';
import { createDecays, logistic, normal, root } from './densities.ts';
import { lags, lagSeconds, meanLag, usualLags } from './lags.ts';
import { likeFlame, type SignalDensities, type SignalLevels, signalPatterns, type SignalStep } from './signal-step.ts';

/** One reading in fifty rises or falls with another lag than the detector's: a flame takes hold or shrinks by itself. */
const anyLag = 0.02;

/** By how much a fall differs from one of the first order: lags between two of the list, a detector of more than one stage. */
const lagMisfit = 0.2;

/** Share of its readings in which a flickering flame wanders without a direction. */
const flickersSo = 0.55;
/** Seconds for which flicker goes on as it began. */
const flickersFor = 0.5;

/** Levels a rising signal may be on its way to, in plateau heights. */
const aims = [0.35, 0.7, 1, 1.3];
/** A signal below this share of the plateau is none that a control would hold a valve open for. */
const leastShare = 0.12;
/** A flame that takes hold counts as burning from this share of the level that its signal is on its way to. */
const burnsFrom = 0.8;
/** A flame that burned higher may shrink until it is hardly seen, at this share of the plateau. */
const hardlySeen = 0.07;
/** Below this share of the plateau no flame takes hold: what stands there is a spark, or a flame that burned higher before. */
const faintBelow = 0.15;
/** Before a flame was seen the plateau is a guess, and a restless dark may reach a tenth of it. */
const leastAssumed = 0.2;
/** Half the usual width of a shoulder, inH2O (common practice: 0.1 to 0.5): how steeply the signal follows the pressure. */
const shoulderWidth = 0.3;

const risen = new Float64Array(lagSeconds.length);
const leftAfter = createDecays(lagSeconds);
const leftAfterBefore = createDecays(lagSeconds);

/** Where the densities of each pattern begin. */
const [fallenAt, risingAt, steadilyAt, followingAt, flickersAt, sparksAt, faintAt, withoutGasAt, lingeringAt] =
  signalPatterns.map((_, n) => n * lags) as [number, number, number, number, number, number, number, number, number];

/** A signal without gas may come to any height from one reading to the next, as probable as that. */
const comesAtOnce = 0.1;
/** A signal that was there before the gas flickers this much less than a flame: equally often, one that flickers for minutes might be either. */
const seldomFlickers = 0.8;
/** Once it has begun it builds up in this share of the readings: much less, and a slow detector would tell of a flame. */
const buildsUp = 0.8;
/** Below no density: one wild reading must not rule a pattern out for good. */
const floor = 1e-4;

/** An array for the densities of one reading. Allocating it takes as long as filling it, so one is used for many readings. */
export const createSignalDensities = (): SignalDensities => new Float64Array(signalPatterns.length * lags);

/**
 * Probability density of a reading of the flame signal, given the one before, for each pattern, in multiples of the plateau height.
 *
 * Without flame the signal falls exponentially towards dark, however slow detector and meter are; rising, it builds up towards some
 * level; a steady flame stays where it was but for noise and for what the pressure's movement does on a shoulder; a flickering one
 * wanders by some per cent of the plateau.
 *
 * @param into  where the densities are written to
 */
export function signalLikelihood(
  step: SignalStep,
  levels: SignalLevels,
  into: SignalDensities = createSignalDensities(),
): SignalDensities {
  const { height } = levels;
  const value = (step.value - levels.dark) / height;
  const before = (step.before - levels.dark) / height;
  const since = step.sinceS;
  const change = value - before;
  const darkNoise = levels.darkNoise / height;
  const darkDeviation = Math.SQRT2 * darkNoise;
  // The meter's noise without a flame is there with one as well: else what falls slowly would explain a noisy flame better.
  const still = Math.SQRT2 * Math.max(levels.noise / height, darkNoise);
  // A flame's own noise goes on in the lagged signal while it falls.
  const fallingNoise = before > 0.3 ? still : darkDeviation;
  const wander = Math.min(3, Math.sqrt(since / 0.1));

  // Sparks and a restless dark disturb a signal near dark by a few per cent.
  const nearDark = logistic((leastShare - value) / 0.02);
  const disturbed = 0.03 * nearDark * normal(change, 0.03);
  const waits = 0.1 * nearDark * normal(change, darkDeviation + 0.002);
  const burns = logistic((value - (levels.heightKnown ? faintBelow : leastAssumed)) / 0.02) + 1e-4;
  const isFaint = levels.heightKnown ? logistic((value - hardlySeen) / 0.02) * (1 - burns) : 0;
  const follows = Math.min(0.3, (step.pressureRate * since) / shoulderWidth);
  // A pressure that rests moves no signal.
  const moves = step.pressureMoves ? 1 : 0.02;
  const flickering =
    0.5 * normal(change, root(0.03 * wander, darkDeviation)) +
    0.5 * normal(change, root(Math.min(0.14, 0.08 * wander), darkDeviation));
  const steady =
    0.93 * normal(change, still) +
    0.05 * normal(change, root(still, 0.5 * follows)) +
    0.02 * normal(change, 0.05 * wander);
  // On a shoulder the signal goes on as it did while the hand goes on turning, and runs out with the lag when it rests.
  const momentum = step.changeBefore / height;
  const trend = (momentum * since) / step.beforeS;
  const glide = (step.rate * since) / height;
  const swings = root(1.1 * still, 0.01 * wander, 0.3 * glide);
  // Behind a lag, flicker goes on for some tenths of a second as it began.
  const swingsOn = 0.3 * exp(-since / flickersFor);
  const swinging = normal(change - glide, swings);
  const runsOut = glide * exp(-since / meanLag(levels.lagShares));
  // A single change carries two readings' noise, a rate over several hardly more than the new one's.
  const follow =
    0.25 * normal(change - trend, root(1.7 * still, 0.25 * trend)) +
    0.3 * normal(change - glide, root(1.1 * still, 0.25 * glide)) +
    0.3 * normal(change - runsOut, root(1.1 * still, 0.25 * runsOut)) +
    0.15 * normal(change, root(still, follows));
  const hasRisen = logistic((before - leastShare) / 0.02);
  // A rise that has only just begun (a shutter opens) does not show in the rate yet.
  const rises = Math.max(0, step.rate / height, change / since);
  let climbs = 0;
  let arrived = 0;
  const densities = into;
  const mostOfSpark = levels.heightKnown ? leastShare : leastAssumed;
  const faintly = isFaint * (0.7 * steady + 0.3 * normal(change, root(still, 0.03))) + floor;
  // Noise about a dark level that is hardly known is no spark.
  const isSpark = levels.darkKnown
    ? logistic((value - Math.max(0.03, 4 * darkNoise)) / 0.01) * logistic((mostOfSpark - value) / 0.02)
    : 0;
  const sparks = isSpark * (0.6 * normal(change, 0.015) + 0.4 * normal(change, 0.05)) + floor;
  // What a flame leaves on hot refractory is more than a restless dark once the plateau is known.
  const leastLeft = levels.heightKnown ? hardlySeen : leastAssumed;
  // It comes at once, with a spark, and stays or fades; one as high as a flame's is a flame's, over gas that the manometer does not show,
  // unless the manometer is known to show it.
  const isBelowFlame = step.isShutSurely ? 1 : logistic((likeFlame - value) / 0.02);
  const isShown = logistic((value - leastLeft) / 0.02);
  // As still or restless as that of a flame, so that only the manometer tells them apart.
  const withoutGas =
    isShown * isBelowFlame * (Math.max(steady, 0.9 * flickering) + comesAtOnce * logistic(change / 0.02)) + floor;
  const lingers = step.isLingering ? 1 : 0;
  const wanders = seldomFlickers * burns * flickersSo * flickering;
  const lefts = leftAfter(since);
  const leftsBefore = leftAfterBefore(step.beforeS);
  for (let k = 0; k < lags; k += 1) {
    densities[faintAt + k] = faintly;
    densities[sparksAt + k] = sparks;
    const gone = 1 - lefts[k]!;
    const leftBefore = leftsBefore[k]!;
    // On its way to a level that stays, a first-order signal changes each time by the same share of what it changed before.
    const goesOn = (momentum * leftBefore * gone) / (1 - leftBefore);
    const deviation = root(fallingNoise, gone * (levels.darkUncertainty / height), lagMisfit * gone * before);
    // The flame may have gone out anywhere between two readings.
    const partly = change < 0 && change > -gone * before ? 1 / (gone * before) : 0;
    densities[fallenAt + k] = 0.87 * normal(change + gone * before, deviation) + 0.1 * partly + disturbed + floor;
    // The level that the signal is on its way to must be that of a flame that is seen.
    const level = before + change / gone;
    const isSeen = logistic(
      (level - leastShare) / Math.max(0.02, root(still / gone, 0.5 * lagMisfit * (change / gone))),
    );
    densities[followingAt + k] = burns * isSeen * moves * follow + floor;
    for (const aim of aims) {
      const climb = (aim - before) * gone;
      if (climb > 0) climbs += ((0.25 * usualLags[k]!) / aims.length) * normal(change - climb, still + 0.3 * climb);
    }
    const onItsWay = normal(change - goesOn, root(1.7 * still, 2 * darkNoise, 0.3 * goesOn));
    const goingOn = goesOn > 0 ? onItsWay : 0;
    // A gust takes a part of the flame at once, and gives it back: the signal goes down and up with the detector's own lag.
    densities[flickersAt + k] =
      burns * (flickersSo * flickering + isSeen * (swingsOn * swinging + 0.15 * onItsWay)) + floor;
    // A first-order signal is on its way to its value and a lag's worth of its rate: where it does not rise, with every lag alike.
    if (k === 0 || rises > 0) {
      // A reading exactly at dark that does not rise is on its way nowhere.
      const aim = before + rises * lagSeconds[k]!;
      arrived = aim === 0 ? 0 : hasRisen * logistic((before / aim - burnsFrom) / 0.04);
    }
    densities[risingAt + k] = (1 - 0.95 * arrived) * 0.65 * goingOn;
    risen[k] = 1 - 0.95 * arrived;
    const stays = burns * (steady + 0.2 * arrived * goingOn);
    densities[steadilyAt + k] = stays + floor;
    // What goes on over gas must look no more and no less like a spark or walls than like a flame: only how it came tells them apart.
    densities[lingeringAt + k] = lingers * Math.max(stays, wanders) + floor;
  }
  // Where it climbs to is not known, so only how it goes on speaks for a lag.
  for (let k = 0; k < lags; k += 1) {
    densities[risingAt + k]! += risen[k]! * (waits + climbs) + floor;
    // Behind a slow detector a spark builds up as a flame does.
    densities[withoutGasAt + k] = withoutGas + (step.isShutSurely ? buildsUp * densities[risingAt + k]! : 0);
  }
  // Sparks, and a flame that only just takes hold, lift the signal a little and slowly: that says nothing of the lag.
  if (value < leastShare) withoutLag(densities, risingAt, 1);
  // About dark there is only noise about a level that may not be known yet.
  if (before < leastShare) withoutLag(densities, fallenAt, 1);
  // How a flame flickers says nothing of the lag either.
  withoutLag(densities, steadilyAt, 1);
  withoutLag(densities, lingeringAt, 1);
  withoutLag(densities, risingAt, anyLag);
  withoutLag(densities, fallenAt, anyLag);
  return densities;
}

/**
 * Mixes into the densities of each lag, which begin at a place, the mean over all with this share: a reading that speaks that much less for
 * any of them.
 */
function withoutLag(densities: Float64Array, at: number, share: number): void {
  let mean = 0;
  for (let k = 0; k < lags; k += 1) mean += usualLags[k]! * densities[at + k]!;
  for (let k = 0; k < lags; k += 1) densities[at + k] = (1 - share) * densities[at + k]! + share * mean;
}
