import { scaleLinear, scaleUtc } from 'd3-scale';

/** What an axis of a plot shows: the values at both ends, the ticks between them and the text of each. */
export interface Ticks {
  domain: [number, number];
  ticks: number[];
  format: (value: number) => string;
}

/**
 * An axis from 0 (or below, when something is) to a round number at or above `highest`. Its ticks are multiples of 1, 2 or 5 times a power
 * of ten, about `count` of them: up to half as many again.
 */
export function axisFromZero(highest: number, lowest = 0, count = 5): Ticks {
  const top = Number.isFinite(highest) && highest > 0 ? highest : 1;
  const bottom = Number.isFinite(lowest) ? Math.min(0, lowest) : 0;
  const scale = scaleLinear([bottom, top], [0, 1]).nice(count);
  const [from, to] = scale.domain();
  // With one step only nothing between its ends could be read.
  const steps = Math.max(2, count);
  return { domain: [from!, to!], ticks: scale.ticks(steps), format: scale.tickFormat(steps, 'f') };
}

/** An axis over `spanS` seconds that end at a moment of the recording, which is its 0. Its ticks are round on the recording's own clock. */
export function axisUntil(endS: number, spanS: number, count = 5): Pick<Ticks, 'domain' | 'ticks'> {
  const inMs = scaleUtc([(endS - spanS) * 1000, endS * 1000], [0, 1]);
  return { domain: [-spanS, 0], ticks: inMs.ticks(count).map((time) => time.getTime() / 1000 - endS) };
}

/** An axis over the last `spanS` seconds, 0 being now. Its ticks are round in seconds and minutes, about `count` of them. */
export function axisOfTimeAgo(spanS: number, count = 5): Pick<Ticks, 'domain' | 'ticks'> {
  const domain: [number, number] = [-spanS, 0];
  const inMs = scaleUtc(
    domain.map((seconds) => seconds * 1000),
    [0, 1],
  );
  return { domain, ticks: inMs.ticks(count).map((time) => time.getTime() / 1000) };
}
