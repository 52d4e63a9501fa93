import { type Simulated, indexOf, runsOf, timeOf } from '../simulated.ts';
import type { Span, TrueLoss, TrueTrial } from '../types.ts';

/** A stretch of the valve open, and what the flame did in it; steps. */
export interface Opening {
  from: number;
  to: number;
  /** Runs of flame inside it, to where it ended even if after the valve shut. */
  flames: { from: number; to: number }[];
}

/** Stretches of open valve, one where a flame burned on all the while in between (stuck valve, leak). */
export function openingsOf({ trace, n }: Simulated): Opening[] {
  const flames = runsOf(trace.flame).filter((run) => run.value);
  const open: { from: number; to: number }[] = [];
  for (const { from, to, value } of runsOf(trace.valve)) {
    const last = open.at(-1);
    if (value && last && trace.flame[from]) last.to = to;
    else if (value) open.push({ from, to });
  }
  return open.map(({ from, to }, k) => {
    const next = open[k + 1]?.from ?? n;
    return { from, to, flames: flames.filter((run) => run.from < next && run.to > from) };
  });
}

/** Flames that went out with the valve open. One that a shutting valve put out is none. */
export function lossesOf(simulated: Simulated, openings: Opening[]): TrueLoss[] {
  const { trace, facts } = simulated;
  return openings.flatMap((opening) =>
    opening.flames
      .filter((flame) => flame.to < opening.to)
      .map((flame): TrueLoss => {
        const next = opening.flames.find((other) => other.from >= flame.to && other.from < opening.to);
        const pressure = trace.pressure[flame.to]!;
        const proof = proofOf(simulated, flame.from, flame.to + indexOf(facts.detector.deadS));
        return {
          at_s: timeOf(flame.to),
          pressure,
          wasProved: (simulated.minimum === undefined ? proof.halfPlateau_s : proof.proved_s) !== undefined,
          side: pressure < facts.flame.lostBelow ? 'low' : pressure > facts.flame.lostAbove ? 'high' : 'none',
          ...(next
            ? {
                relitAt_s: timeOf(next.from),
                relitPressure: trace.pressure[next.from]!,
                relitBy: trace.spark[next.from - 1] || trace.spark[next.from] ? 'spark' : 'itself',
              }
            : opening.to < simulated.n && { gasShutAt_s: timeOf(opening.to) }),
        };
      }),
  );
}

/** When the signal, on its way up after `from`, first reaches a share of its steady value (or a fixed level). */
function reaches({ trace, facts }: Simulated, from: number, to: number, level: (i: number) => number) {
  const { dark } = facts.detector;
  for (let i = from; i < to; i += 1) if (trace.signal[i]! - dark >= level(i)) return timeOf(i);
  return undefined;
}

/** The moments of proof after an ignition at step `from`. */
export function proofOf(simulated: Simulated, from: number, to: number) {
  const { trace, facts, minimum } = simulated;
  const { dark } = facts.detector;
  const share = (part: number) =>
    reaches(simulated, from, to, (i) => part * Math.min(trace.steady[i]! - dark, facts.detector.clip - dark));
  const eighty_s = share(0.8);
  const byMinimum = minimum === undefined ? undefined : reaches(simulated, from, to, () => minimum - dark);
  const halfPlateau_s = reaches(simulated, from, to, () => 0.5 * (simulated.plateau - dark));
  return { half_s: share(0.5), eighty_s, halfPlateau_s, proved_s: minimum === undefined ? eighty_s : byMinimum };
}

export function trialsOf(simulated: Simulated, openings: Opening[]): TrueTrial[] {
  const { trace, instruments, attempts, trialS, facts } = simulated;
  // A flame that burned when the recording began was lit before.
  return openings
    .filter((opening) => opening.from > 0)
    .map((opening): TrueTrial => {
      const over = Math.min(opening.to, opening.from + indexOf(trialS));
      const flame = opening.flames.find((run) => run.from >= opening.from);
      const lit = flame !== undefined && flame.from < over;
      const spark = trace.spark.indexOf(true, opening.from);
      const sparked = spark >= 0 && spark < over ? timeOf(spark) : undefined;
      const gas_s = timeOf(opening.from);
      const typed = attempts.find((attempt) => Math.abs(attempt.gasS - gas_s) < 0.1)?.typed ?? false;
      const delay = sparked === undefined ? Infinity : sparked - gas_s;
      const known = instruments.ignition || typed;
      const kind =
        !known || sparked === undefined
          ? 'unknown'
          : delay < 0.5
            ? 'plain'
            : delay >= facts.control.trialS / 2 - 0.1
              ? 'delayed'
              : 'unknown';
      return {
        gas_s,
        ...(sparked !== undefined && { spark_s: sparked }),
        pressure: trace.stand[Math.min(over, simulated.n - 1)]!,
        lit,
        ...(lit && { ignited_s: timeOf(flame.from), ...proofOf(simulated, flame.from, opening.to) }),
        ...(opening.to < simulated.n && { shut_s: timeOf(opening.to) }),
        kind,
      };
    });
}

/** Stretches of valve shut in which the gas does not stop. */
export function leaksOf({ trace, n }: Simulated): (Span & { rest: number })[] {
  return runsOf(trace.valve)
    .filter((run) => !run.value && run.from > 0)
    .map(({ from, to }) => ({
      from_s: timeOf(from),
      to_s: timeOf(to),
      rest: trace.rest[from + 1 < n ? from + 1 : from]!,
      i: from,
    }))
    .filter(({ rest, i }) => rest - trace.fanOnly[i]! > 0.05 * (trace.pressure[i]! - trace.fanOnly[i]!))
    .map(({ i: _, ...leak }) => leak);
}

export const pulsesOf = ({ trace }: Simulated): Span[] =>
  runsOf(trace.shutter)
    .filter((run) => run.value)
    .map(({ from, to }) => ({ from_s: timeOf(from), to_s: timeOf(to) }));
