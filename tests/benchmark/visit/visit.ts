/**
 * Whole visits to a burner whose truth is known moment by moment, drawn from a kind and a seed.
 *
 * What it is for: measuring whatever says what the burner is doing (gas, flame, regulator, phase) from the two meters. The
 * physics follows the trade (fan, regulator, valve, flame, detector, control, a person at the screw), not any model of
 * the product, and shares no code with it but units, the types of a capture and the random numbers.
 *
 * How a visit comes about: `draft/` draws a plain one, `kinds/` change it, `technician/` carries out the plan on the
 * burner of `burner/` in steps of 20 ms, `readings.ts` reads the meters, and `truth/` gives each step its words by these
 * definitions:
 *
 * - gas. `opening`: from the valve's first movement until the pressure has come 95 % of the way from fan-only to the
 *   regulator's pressure. `closing`: from the valve's shutting until it has gone 95 % of the way to where it rests. A leak
 *   that rests higher than 5 % above fan-only is `flowing`. `unknown`: the manometer is dead, frozen or overloaded.
 * - flame. `dark`: none since this gas opened, or before any gas. `lighting`: from ignition until the noise-free signal,
 *   lag included, has passed 80 % of its steady value. `unsteady`: burns, and the flicker seen behind the lag has a
 *   standard deviation above 8 % of the plateau. `lost`: gone after it had burned, gas on. `out`: gone, and gas shut (or
 *   running out). A pulse of the detector's self-check is `burning`.
 * - regulator. Turning as the spring feels it; jerks less than 1.5 s apart are one turn. `settling`: more than 2 % from
 *   where the pressure will stand while the hand is still. `unknown` while gas is shut or closing.
 * - phase. `trial`: from the valve's opening until proved, gas shut, or the trial time over (`unknown` from then on until
 *   lit or shut). `held`: from the proof until gas is shut, flame or not. `wait`, `purge`: gas shut between gas-on
 *   stretches, without and with air shown by the fan's pressure or confirmed by marks (`air-confirmed` to `air-stopped`).
 *
 * `truth.eitherWay` lists the spans in which more than one word is right; `acceptableWords` puts both together. Pressures
 * and signals are in the capture's units, as an ideal gauge would show them.
 */
import type { Capture } from '../../../shared/model/capture.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { createBurner, type Trace } from './burner/burner.ts';
import { stepS } from './burner/facts.ts';
import { captureOf } from './capture.ts';
import { type Draft, plainDraft } from './draft/draft.ts';
import { placeFaults } from './faults.ts';
import { changes } from './kinds/kinds.ts';
import type { Simulated } from './simulated.ts';
import { type Doing, type Site } from './technician/actions.ts';
import { carryOut } from './technician/plan.ts';
import { truthOf } from './truth/truth.ts';
import { plateauOf } from './truth/window.ts';
import type { StateName, Visit, VisitTruth } from './types.ts';

export { type Visit } from './types.ts';

export const visitKinds: string[] = Object.keys(changes);

/** Longest visit, seconds. */
const mostS = 2400;

/** The visit of that kind and seed, the same every time. Throws for a kind that is not in `visitKinds`. */
export function drawVisit(kind: string, seed: number): Visit {
  const { simulated, capture } = drawSimulated(kind, seed);
  const { pressureUnit, signalUnit } = simulated.instruments;
  const truth = truthOf(simulated, capture.readings);
  return { kind, seed, pressureUnit, signalUnit, capture, durationS: simulated.n * stepS, truth };
}

/** The same before its truth is worked out: what happened, step by step, and what is on record of it. */
export function drawSimulated(kind: string, seed: number): { simulated: Simulated; capture: Capture } {
  const change = changes[kind];
  if (!change) throw new Error(`no kind of visit is called ${kind}`);
  const random = createRandom(hashOf(`${kind}/${seed}`));
  const draft = plainDraft(random);
  change(draft);
  const simulated = simulate(draft, createRandom(hashOf(`${kind}/${seed}/burner`)));
  const meters = createRandom(hashOf(`${kind}/${seed}/meters`));
  simulated.faults = placeFaults(draft, simulated, meters);
  return { simulated, capture: captureOf(draft, simulated, `${kind} ${seed}`, meters) };
}

/** FNV-1a, 32 bits: a seed for each kind by its name, so that a new kind leaves the others alone. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (const letter of text) hash = Math.imul(hash ^ letter.codePointAt(0)!, 0x01000193);
  return hash >>> 0;
}

function simulate(draft: Draft, random: ReturnType<typeof createRandom>): Simulated {
  const { burner: facts, plan, instruments, entered } = draft;
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const burner = createBurner(facts, { fan: plan.fanFromStart, screw: plan.asFound }, random);
  const site: Site = {
    burner,
    facts,
    random,
    between,
    turning: draft.turning,
    attempts: [],
    notes: [],
    airConfirmed: [],
    types: plan.types,
    withTime: plan.withTime,
    recordedFrom: 0,
  };
  const doing: Doing = carryOut(site, plan);
  while (!doing.next().done && burner.t < mostS) burner.step();
  const skip = Math.round(site.recordedFrom / stepS);
  const trace = Object.fromEntries(
    Object.entries(burner.trace).map(([name, values]) => [name, skip > 0 ? values.slice(skip) : values]),
  ) as unknown as Trace;
  const earlier = (t: number) => t - site.recordedFrom;
  const n = trace.pressure.length;
  const tested = burnedAt(trace, facts.curve.low, facts.curve.high);
  const top = plateauOf(facts, tested[0], tested[1]);
  const dropped = (1 - (draft.setup.signalDropFraction ?? 0.1)) * top.level;
  const minimum = entered.minimum ? minimumOf(draft, top.level) : undefined;
  return {
    facts,
    instruments,
    trace,
    n,
    trialS: facts.control.trialS,
    attempts: site.attempts.map((attempt) => ({ ...attempt, gasS: earlier(attempt.gasS) })),
    notes: site.notes.map((note) => ({ ...note, atS: earlier(note.atS) })),
    airConfirmed: site.airConfirmed.map(([from, to]) => [earlier(from), earlier(to)]),
    faults: [],
    plateau: top.level,
    plateauAt: top.at,
    tested,
    required: Math.max(dropped, minimum ?? 0),
    ...(minimum !== undefined && { minimum }),
  };
}

/** What the maker asks for, rounded as a manual would: from a quarter to two thirds of the plateau. */
function minimumOf({ instruments, burner }: Draft, level: number): number {
  const share = 0.25 + 0.4 * (burner.flame.lightsIn - Math.floor(burner.flame.lightsIn));
  const tenths = Math.round(10 * share * level * instruments.amplitude) / 10;
  return tenths / instruments.amplitude;
}

/** Lowest and highest pressure, settled, at which the flame burned; the ends of the curve where none ever did. */
function burnedAt({ pressure, stand, flame, valve }: Trace, low: number, high: number): [number, number] {
  let [least, most] = [Infinity, -Infinity];
  pressure.forEach((p, i) => {
    if (!flame[i] || !valve[i] || Math.abs(p - stand[i]!) > 0.03 * stand[i]!) return;
    least = Math.min(least, p);
    most = Math.max(most, p);
  });
  return least <= most ? [least, most] : [low, high];
}

/** Every word that is right for a state at a moment; `live`: said at that moment, without hindsight. */
export function acceptableWords(truth: VisitTruth, of: StateName, at_s: number, live: boolean): string[] {
  const covers = (span: { from_s: number; to_s: number }) => at_s >= span.from_s && at_s < span.to_s;
  const segment = truth.segments.find(covers);
  const also = truth.eitherWay.filter((each) => each.of === of && covers(each) && (live || !each.live));
  return [...new Set([...(segment ? [segment[of]] : []), ...also.flatMap((each) => each.words)])];
}
