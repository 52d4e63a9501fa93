/** A short drop of the signal: when it began, and how long the shutter was shut, seconds. */
export interface Drop {
  atS: number;
  widthS: number;
}

/** When a rhythm is believed; see `findRhythm`. */
export interface RhythmCriteria {
  minMatched: number;
  mostByChance: number;
}

/** The rhythm that drops follow: which do, seconds from one to the next, and the moments at which a pulse is expected. */
export interface PulseRhythm {
  matched: Drop[];
  periodS: number;
  expected: number[];
}

/** Periods that are looked for: above the pulse with its tail, and often enough in a sweep of minutes to be a rhythm. */
const [shortestPeriodS, longestPeriodS] = [1.5, 60];
/** More drops than this in one sweep are an unsteady flame, and every pair of them would be tried. */
const maxDrops = 150;
/** Of the moments at which the rhythm expects a drop this share must have one: shallow pulses on a shoulder are missed. */
const minFilled = 0.6;

/**
 * The even rhythm that most drops follow, at least three of them: two drops have an interval, but no rhythm.
 *
 * @param step         seconds between readings
 * @param from, to     when pulses are expected, seconds
 * @param litAt        whether a pulse shows at a moment
 * @param minMatched   share of all drops that must follow the rhythm: the others are flicker, which has none
 * @param mostByChance drops that came at random would give such a rhythm less often than this
 */
export function findRhythm(
  drops: Drop[],
  step: number,
  [from, to]: [number, number],
  litAt: (t: number) => boolean,
  { minMatched, mostByChance }: RhythmCriteria,
): PulseRhythm | undefined {
  let best: (PulseRhythm & { score: number }) | undefined;
  if (drops.length < 3 || drops.length > maxDrops) return undefined;
  for (let i = 0; i < drops.length; i += 1)
    for (let j = i + 1; j < drops.length; j += 1) {
      const gap = drops[j]!.atS - drops[i]!.atS;
      if (gap < shortestPeriodS || gap > longestPeriodS) continue;
      const tolerance = Math.min(step + 0.03 * gap, 0.15 * gap);
      const beat = (drop: Drop, periodS: number) => Math.round((drop.atS - drops[i]!.atS) / periodS);
      // The period is corrected from drop to drop, so that a slight error of it does not add up.
      let periodS = gap;
      const matched = drops.filter((drop) => {
        const off = drop.atS - drops[i]!.atS - beat(drop, periodS) * periodS;
        if (Math.abs(off) > tolerance) return false;
        if (beat(drop, periodS) > 1) periodS = (drop.atS - drops[i]!.atS) / beat(drop, periodS);
        return true;
      });
      if (matched.length < 3 || matched.length < minMatched * drops.length) continue;
      const first = matched[0]!.atS;
      const expected: number[] = [];
      for (let k = Math.ceil((from - first) / periodS); first + k * periodS <= to; k += 1)
        expected.push(first + k * periodS);
      if (chanceOf(matched.length, drops.length, (2 * tolerance) / gap) > mostByChance) continue;
      const filled = matched.length / Math.max(1, expected.filter(litAt).length);
      if (filled < minFilled) continue;
      const score = matched.length * Math.min(1, filled);
      if (!best || score > best.score) best = { matched, periodS, expected, score };
    }
  return best;
}

/**
 * How many rhythms of `matched` or more drops are to be expected among `drops` that came at random. Any two of them make a rhythm, and
 * each other one is within its tolerance with the probability `share`: the expectation over all pairs, by the binomial distribution.
 */
function chanceOf(matched: number, drops: number, share: number): number {
  const others = drops - 2;
  let tail = 0;
  let ways = 1;
  for (let k = 0; k <= others; k += 1) {
    if (k >= matched - 2) tail += ways * share ** k * (1 - share) ** (others - k);
    ways *= (others - k) / (k + 1);
  }
  return ((drops * (drops - 1)) / 2) * tail;
}
