import type { IntervalStatus } from '../../../shared/model/results/analysis-result.ts';
import { sweepsOf } from '../../../shared/model/sweeps.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { shareAt } from '../visit/burner/curves.ts';
import { steadySignal } from '../visit/burner/detector.ts';
import { pressureFactor } from '../visit/readings.ts';
import { type Simulated, timeOf } from '../visit/simulated.ts';
import { plateauOf } from '../visit/truth/window.ts';
import type { Ends, VisitTruth } from '../visit/types.ts';
import { isToldApart } from './told-apart.ts';

export type Side = 'low' | 'high';

/** What a right answer is, by the definitions of the files' contract; pressures in the capture's unit. */
export interface Expected {
  /** A flame burned in the readings that belong to a sweep. */
  burned: boolean;
  /** Each side on its own: was the end of the signal reached while both meters worked and the readings belong to a sweep? */
  reached: Record<Side, 'yes' | 'no' | 'either'>;
  /** Of a detector that warms up, the plateau when the sweep began and when it was warm; the same twice of any other. */
  plateau: [number, number];
  /**
   * Innermost of the signal's end and, where it was lost on that side, the loss: what an interval of a bounded end has to hold. A flame
   * that was blown out at the last pressure that was tested was last known to stay there, and the files' contract makes that the end.
   */
  ends: Ends;
  /** Where the steady signal is good and the flame stays, or comes back by itself where it was lost: a set point belongs there. */
  burning: Ends;
  /** The same and where it lights, at once and with the spark held back. */
  window: Ends;
}

/** Of the pressure: nearer than this to the end nobody can say whether it was reached. The generator's own settling is 3 %. */
const eitherShare = 0.03;
/** By the files' contract. */
const usualDrop = 0.1;

/** What the flame showed in the readings that belong to a sweep. */
interface Seen {
  /** Lowest and highest settled pressure, in the capture's unit. */
  least: number;
  most: number;
  /** The least that a warming detector showed, as a share of what it shows when warm. */
  coldest: number;
  /** The steps of the trace, and the pressures of them. */
  steps: number[];
  pressureAt: (step: number) => number;
}

/** Whether a moment belongs to a sweep: where none was marked, all do. */
const isInSweep = (sweeps: readonly { fromS: number; toS: number }[], t: number) =>
  sweeps.length === 0 || sweeps.some(({ fromS, toS }) => t >= fromS && t <= toS);

function seenIn(simulated: Simulated, capture: Capture): Seen {
  const { trace, faults, facts, n } = simulated;
  const sweeps = sweepsOf(capture.marks).filter(({ isVoid }) => !isVoid);
  let [least, most] = [Infinity, -Infinity];
  let coldest = 1;
  const steps: number[] = [];
  for (let i = 0; i < n; i += 1) {
    const [p, stand] = [trace.pressure[i]!, trace.stand[i]!];
    if (!trace.flame[i] || !trace.valve[i] || Math.abs(p - stand) > eitherShare * stand) continue;
    const t = timeOf(i);
    if (!isInSweep(sweeps, t)) continue;
    if (faults.some(({ kind, from_s, to_s }) => kind !== 'zero-shift' && t >= from_s && t <= to_s)) continue;
    steps.push(i);
    least = Math.min(least, p);
    most = Math.max(most, p);
    const { dark } = facts.detector;
    const warm = steadySignal(facts, shareAt(facts.curve, p)) - dark;
    if (warm > 0) coldest = Math.min(coldest, (trace.steady[i]! - dark) / warm);
  }
  const factor = pressureFactor(simulated);
  const pressureAt = (step: number) => trace.pressure[step]! * factor;
  return { least: least * factor, most: most * factor, coldest, steps, pressureAt };
}

/**
 * The same visit with the plateau, and what is required by it, of the pressures that count as tested by the definitions: those at which a
 * flame was seen in the readings that belong to a sweep. A meter that is out, and what lies outside the marked sweeps, tests nothing.
 */
export function asSeen(simulated: Simulated, capture: Capture): Simulated {
  const factor = pressureFactor(simulated);
  const { least, most } = seenIn(simulated, capture);
  if (!Number.isFinite(least)) return simulated;
  const top = plateauOf(simulated.facts, least / factor, most / factor);
  const dropped = (1 - (capture.setup.signalDropFraction ?? usualDrop)) * top.level;
  const required = Math.max(dropped, simulated.minimum ?? 0);
  return { ...simulated, plateau: top.level, plateauAt: top.at, required };
}

/** Works out the right answer from what was true of the burner and from what the meters could see of it. */
export function expectedOf(simulated: Simulated, capture: Capture, truth: VisitTruth): Expected {
  const seen = seenIn(simulated, capture);
  const sweeps = sweepsOf(capture.marks).filter(({ isVoid }) => !isVoid);
  const ends: Ends = {};
  const reached: Expected['reached'] = { low: 'no', high: 'no' };
  for (const [side, by, least] of [
    ['low', -1, seen.least],
    ['high', 1, seen.most],
  ] as const) {
    const lost = truth.losses.some((loss) => loss.side === side) ? truth.ends.lost[side] : undefined;
    const signal = truth.ends.signal[side];
    const inner = [signal, lost].filter((end) => end !== undefined);
    if (inner.length === 0) continue;
    const end = by < 0 ? Math.max(...inner) : Math.min(...inner);
    ends[side] = end;
    if (!Number.isFinite(least)) continue;
    const beyond = (least - end) * by;
    const near = eitherShare * Math.abs(end);
    // A flame that is lost at its end is never seen beyond it.
    // Blown out by a draft at the last pressure that was tested: nobody can tell that from a pressure that puts it out.
    const blownOut = truth.losses.filter(
      ({ side: at, pressure }) => at === 'none' && Math.abs(pressure - least) < near,
    );
    const atEdge = blownOut.length > 0;
    const edge = blownOut.find(({ at_s: t }) => isInSweep(sweeps, t));
    if (edge && beyond < 0) ends[side] = edge.pressure;
    if (lost !== undefined && isLossSeen(truth, capture, side)) reached[side] = 'yes';
    else if (end === lost || atEdge) reached[side] = 'either';
    else if (Math.abs(beyond) <= near) reached[side] = 'either';
    else {
      // Beyond an end that was reached, or near the last pressure before one that was not, nobody may be able to tell it in the noise.
      const from = beyond > 0 ? end : least - by * eitherShare * Math.abs(least);
      const outside = seen.steps.filter((step) => (seen.pressureAt(step) - from) * by > 0);
      reached[side] = !isToldApart(simulated, outside) ? 'either' : beyond > 0 ? 'yes' : 'no';
    }
  }
  const plateau: [number, number] = [truth.dark + seen.coldest * (truth.plateau - truth.dark), truth.plateau];
  return {
    burned: Number.isFinite(seen.least),
    reached,
    ends,
    plateau,
    burning: withoutLightOff(truth),
    window: truth.window,
  };
}

/** Whether a loss on that side falls into a sweep and into no fault of a meter, ten seconds of the fall included. */
function isLossSeen(truth: VisitTruth, capture: Capture, side: Side): boolean {
  const sweeps = sweepsOf(capture.marks).filter(({ isVoid }) => !isVoid);
  return truth.losses.some(
    (loss) =>
      loss.side === side &&
      (sweeps.length === 0 || sweeps.some(({ fromS, toS }) => loss.at_s >= fromS && loss.at_s + 3 <= toS)) &&
      !truth.meterFaults.some(
        ({ kind, from_s, to_s }) => kind !== 'zero-shift' && from_s <= loss.at_s + 10 && to_s >= loss.at_s - 3,
      ),
  );
}

function withoutLightOff({ ends, losses }: VisitTruth): Ends {
  const found: Ends = {};
  for (const [side, innermost] of [
    ['low', Math.max],
    ['high', Math.min],
  ] as const) {
    const cameBack = losses.some((loss) => loss.side === side && loss.relitBy === 'itself');
    const all = [ends.signal[side], cameBack ? ends.returned[side] : ends.lost[side]].filter(
      (end) => end !== undefined,
    );
    if (all.length > 0) found[side] = innermost(...all);
  }
  return found;
}

/** Whether a status is one of those that are right: where no flame was to be seen, only that there is no window. */
export function isRightStatus(status: IntervalStatus, { reached, burned }: Expected): boolean {
  if (status === 'none' || !burned) return status === 'none' && !burned;
  const said = {
    low: status === 'bounded' || status === 'open-high',
    high: status === 'bounded' || status === 'open-low',
  };
  return (['low', 'high'] as const).every(
    (side) => reached[side] === 'either' || said[side] === (reached[side] === 'yes'),
  );
}
