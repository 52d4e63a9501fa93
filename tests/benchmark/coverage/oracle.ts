import { leastSquares } from '../../../shared/numerics/linear/least-squares.ts';
import { burning, type TrueCurve } from '../sweep/burner.ts';
import type { DrawnSweep } from '../sweep/kinds.ts';
import { isShut, type Outage, stepS } from '../sweep/simulate.ts';
import { type SweepTruth, truthOf } from '../sweep/truth.ts';
import { knownPressure, type KnownPressure } from './known-pressure.ts';
import { knownNoise, knownSignal } from './known-signal.ts';

/** What is fitted: the steady curve, and when the flame was lost. */
interface Unknowns {
  curve: TrueCurve;
  outages: Outage[];
}

/**
 * The best that a specialist could do: an oracle fit, least squares that knows the form of the true curve, the lags, the noise,
 * which readings are corrupted and where to start. Only the steady curve (and the moments of flame loss) are left to fit.
 * Undefined where even this does not converge.
 */
export function oracleAnswer({ facts, capture, outages, durationS, uncorrupted }: DrawnSweep): SweepTruth | undefined {
  const pressures = knownPressure(uncorrupted, facts, durationS);
  const settleS = facts.deadS + 5 * facts.lagS;
  const usable = uncorrupted.filter(
    ({ role, elapsedS }) =>
      role === 'flame_signal' && wasKnown(pressures, elapsedS - settleS, elapsedS) && !nearPulse(facts, elapsedS),
  );
  const times = Float64Array.from(usable, (reading) => reading.elapsedS);
  const signal = Float64Array.from(usable, (reading) => reading.value);
  const noise = knownNoise(facts, pressures.pressure, times);
  const free = freeParameters(facts.curve, facts.tested, outages);
  const start = Float64Array.from(free, (parameter) => parameter.start);
  const unknowns = (x: Float64Array): Unknowns => {
    const at: Unknowns = { curve: structuredClone(facts.curve), outages: structuredClone(outages) };
    free.forEach((parameter, k) => parameter.put(at, x[k]!));
    return at;
  };
  const residuals = (x: Float64Array, into: Float64Array) => {
    const { curve, outages } = unknowns(x);
    knownSignal(facts, pressures.pressure, times, curve, outages, into);
    for (let k = 0; k < times.length; k += 1) into[k] = (signal[k]! - into[k]!) / noise[k]!;
  };
  const fit = leastSquares(residuals, start, times.length, {
    iterations: 40,
    tolerance: 1e-6,
    typical: Float64Array.from(free, (parameter) => parameter.typical),
  });
  if (!fit.parameters.every(Number.isFinite) || fit.stop === 'not-finite' || fit.stop === 'singular') return undefined;
  const fitted = unknowns(fit.parameters);
  const lossBelow = Math.max(-1, ...fitted.outages.map(({ lostS }) => pressureAtTime(pressures, lostS)));
  return truthOf({ ...fitted.curve, lossBelow }, facts.tested, capture.setup);
}

/** Whether the pressure was known all the time from one moment to another: a lagging signal depends on all of it. */
function wasKnown({ known }: KnownPressure, fromS: number, toS: number): boolean {
  const last = Math.min(known.length - 1, Math.round(toS / stepS));
  for (let i = Math.max(0, Math.round(fromS / stepS)); i <= last; i += 1) if (known[i] === 0) return false;
  return true;
}

const nearPulse = (facts: DrawnSweep['facts'], t: number) =>
  isShut(facts, t) || isShut(facts, t - 0.03) || isShut(facts, t + 0.03);

function pressureAtTime({ pressure }: KnownPressure, t: number): number {
  const i = Math.min(pressure.length - 2, Math.max(0, Math.floor(t / stepS)));
  return pressure[i]! + (t / stepS - i) * (pressure[i + 1]! - pressure[i]!);
}

interface Parameter {
  start: number;
  /** Typical size, for difference steps. */
  typical: number;
  put: (into: Unknowns, value: number) => void;
}

type NumberOfCurve = Exclude<keyof TrueCurve, 'sag' | 'form' | 'step'>;

/** The parameters that the tested pressures determine: a shoulder that was not reached keeps its true parameters. */
function freeParameters(curve: TrueCurve, tested: [number, number], outages: Outage[]): Parameter[] {
  const plain = (name: NumberOfCurve): Parameter => ({
    start: curve[name],
    typical: Math.max(0.1, Math.abs(curve[name])),
    put: (into, value) => (into.curve[name] = value),
  });
  const positive = (name: NumberOfCurve): Parameter => ({
    start: Math.log(curve[name]),
    typical: 1,
    put: (into, value) => (into.curve[name] = Math.exp(value)),
  });
  const fallsTo = (share: number) => tested.map((p) => burning(curve, p) < share * curve.amplitude);
  const [low, high] = fallsTo(0.85);
  const isDarkSeen = fallsTo(0.5).some(Boolean);
  const { sag } = curve;
  // A hump has its width from where its ends are.
  const width = (name: 'lowWidth' | 'highWidth') => (curve.form === 'hump' ? [] : [positive(name)]);
  return [
    plain('amplitude'),
    ...(isDarkSeen ? [plain('dark')] : []),
    ...(low ? [plain('low'), ...width('lowWidth')] : []),
    ...(high ? [plain('high'), ...width('highWidth')] : []),
    ...(low && curve.lowRound !== 1 ? [positive('lowRound')] : []),
    ...(high && curve.highRound !== 1 ? [positive('highRound')] : []),
    ...(curve.clip < 10 ? [plain('clip')] : []),
    ...(sag
      ? [
          { start: sag.knee, typical: 1, put: (into: Unknowns, value: number) => (into.curve.sag!.knee = value) },
          { start: sag.depth, typical: 0.1, put: (into: Unknowns, value: number) => (into.curve.sag!.depth = value) },
        ]
      : []),
    ...outages.flatMap(({ lostS, relitS }, k) => [
      // Several steps of the simulation, since the signal depends on these times only step by step.
      { start: lostS, typical: 5e3, put: (into: Unknowns, value: number) => (into.outages[k]!.lostS = value) },
      ...(relitS < Infinity
        ? [{ start: relitS, typical: 5e3, put: (into: Unknowns, value: number) => (into.outages[k]!.relitS = value) }]
        : []),
    ]),
  ];
}
