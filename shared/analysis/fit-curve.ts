import { log } from '../model/elementary.ts';
import { bends, curveAt, type Layout, layoutOf, type Shape, type TestedScale } from './curve-model.ts';
import { type FirstLook, longestLag } from './first-look.ts';
import { type DarkStretch, lossPressures } from './flame-out.ts';
import { createPredictor, type Scene } from './forward.ts';
import { quantum } from './clean.ts';
import { cutAtTop, looksClipped, topOf } from './clipped.ts';
import { type Fit, leastSquares } from './least-squares.ts';
import { lagProduct, mean } from './moments.ts';
import { huberWeight, robustDeviation } from './robust.ts';
import type { Series } from './series.ts';

/** A steady-state curve with its lag, as fitted. */
export interface CurveFit {
  shape: Shape;
  layout: Layout;
  scale: TestedScale;
  fit: Fit;
  /** Predicted and residual signal at each reading, in the signal's unit. */
  predicted: Float64Array;
  residual: Float64Array;
  /** Weight by which each residual was multiplied: 1 / its expected deviation, less for outliers. */
  weight: Float64Array;
  /** -2 log likelihood per reading, without what is the same for all shapes. */
  deviance: number;
  /** How much more the doubt of each prior is than its deviation in the fit. */
  priorDoubt: Float64Array;
  /** How many independent readings the residuals are worth. */
  effective: number;
}

/** Expected deviation of the signal: a floor everywhere, and what flicker and a steep shoulder add half way down. */
interface Noise {
  floor: number;
  shoulder: number;
}

/**
 * The steady-state curve with its lag: the shape is chosen on a coarse picture of the sweep, where forty fits cost little,
 * and then fitted to all readings.
 */
export function fitCurve(
  coarse: { scene: Scene; signal: Series },
  fine: { scene: Scene; signal: Series },
  look: FirstLook,
  dark: DarkStretch[],
): CurveFit {
  const chosen = chooseShape(coarse.scene, coarse.signal, look, dark);
  return fitShape(fine.scene, fine.signal, look, chosen.fit.shape, chosen.fit, chosen.losses, 1e-7);
}

/**
 * Tries the shapes that the data may have and gives the one with the least AICc. Bends, a clipped plateau and lost
 * flames are taken in only when they earn clearly more than their parameters.
 * Source: Hurvich and Tsai 1989, Biometrika 76, 297 (AICc).
 */
function chooseShape(
  scene: Scene,
  signal: Series,
  look: FirstLook,
  dark: DarkStretch[],
): { fit: CurveFit; losses: DarkStretch[] } {
  let losses: DarkStretch[] = [];
  const tryShape = (shape: Shape, from?: CurveFit) => fitShape(scene, signal, look, shape, from, losses, comparable);
  const shapesWith = (flameOuts: number): Shape[] =>
    [false, true].flatMap((lowShoulder) =>
      [false, true].map(
        (highShoulder) =>
          ({
            lowShoulder,
            highShoulder,
            bend: 'level',
            clipped: false,
            flameOuts,
            skew: { low: false, high: false },
          }) as const,
      ),
    );
  const clipped = looksClipped(signal);
  /** Shoulders that are rounded unevenly, and plateaus that are not level, must each earn clearly more than their parameters. */
  const skewed = (plain: CurveFit): CurveFit => {
    const { lowShoulder, highShoulder } = plain.shape;
    const skews = [
      ...(lowShoulder ? [{ low: true, high: false }] : []),
      ...(highShoulder ? [{ low: false, high: true }] : []),
      ...(lowShoulder && highShoulder ? [{ low: true, high: true }] : []),
    ];
    const fits = skews.map((skew) => tryShape({ ...plain.shape, skew }, plain));
    return leastOf([plain, ...fits], [0, ...skews.map(({ low, high }) => (low && high ? 12 : 6))]);
  };
  const bent = (level: CurveFit): CurveFit => {
    const fits = bends.slice(1).map((bend) => tryShape({ ...level.shape, bend }, level));
    return leastOf([level, ...fits], [0, 6, 6, 8, 8]);
  };
  const refined = (start: CurveFit): CurveFit => {
    let best = start;
    if (clipped) {
      const withClip = tryShape({ ...best.shape, clipped: true }, best);
      // One-sided noise under a top speaks for itself; its mean lies below the level, so the residuals must not decide.
      // Where readings stand at the very top otherwise the fit decides; a plateau that is only quiet has to earn it.
      const handicap = topOf(signal).share > 0.2 ? [0, 0] : [0, 15];
      best = cutAtTop(signal) ? withClip : leastOf([best, withClip], handicap);
    }
    return best.shape.clipped ? best : bent(skewed(best));
  };
  const smooth = { fit: refined(leastOf(shapesWith(0).map((shape) => tryShape(shape)))), losses };
  if (dark.length === 0 || dark.length > 4) return smooth;
  // A dark stretch behind a shoulder needs no loss; what remains are those into which the signal fell from a good height.
  losses = dark;
  const { lowShoulder, highShoulder } = smooth.fit.shape;
  const alike = shapesWith(dark.length).find((s) => s.lowShoulder === lowShoulder && s.highShoulder === highShoulder)!;
  // Most dark stretches lie behind a shoulder; one fit shows it and spares the rest.
  if (!isCliff(tryShape(alike), scene).some(Boolean)) return smooth;
  const plainLoss = () => leastOf(shapesWith(losses.length).map((shape) => tryShape(shape)));
  let lossFit = plainLoss();
  for (let cliffs = isCliff(lossFit, scene); !cliffs.every(Boolean); cliffs = isCliff(lossFit, scene)) {
    losses = losses.filter((_, k) => cliffs[k]);
    if (losses.length === 0) return smooth;
    lossFit = plainLoss();
  }
  const withLoss = refined(lossFit);
  return leastOf([smooth.fit, withLoss], [0, 10]) === withLoss ? { fit: withLoss, losses } : smooth;
}

/** For each loss of flame whether it was lost from a good height, as fitted: lower down a shoulder looks the same. */
function isCliff(fit: CurveFit, scene: Scene): boolean[] {
  const x = fit.fit.parameters;
  const dark = x[fit.layout.dark]!;
  const level = new Float64Array(1);
  return lossPressures(scene.grid, x, fit.layout.flameOut).map(({ lost }) => {
    curveAt(x, fit.layout, fit.scale, Float64Array.of(lost), level);
    return level[0]! - dark > 0.25 * Math.abs(x[fit.layout.amplitude]!);
  });
}

/**
 * The fit with the least AICc after its handicap. All are judged by one count of independent readings, the largest that
 * any of them leaves, and at least an eighth of all: a bad fit leaves correlated residuals, which must not excuse it.
 */
function leastOf(fits: CurveFit[], handicap: number[] = []): CurveFit {
  const effective = Math.max(fits[0]!.residual.length / 8, ...fits.map((fit) => fit.effective));
  let best = fits[0]!;
  let least = Infinity;
  fits.forEach((fit, i) => {
    const value = aicc(fit.deviance, fit.layout.size + 2, effective) + (handicap[i] ?? 0);
    if (value < least) [best, least] = [fit, value];
  });
  return best;
}

/** Corrected Akaike criterion from the deviance per reading, k parameters (the noise's two sizes among them). */
export function aicc(deviance: number, k: number, effective: number): number {
  const n = Math.max(effective, k + 3);
  return deviance * n + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}

/** Tolerances of a search whose answer is only a step to the next one, and of one that is only compared with others. */
const [rough, comparable] = [2e-3, 1e-4];

const endOf = (scene: Scene) => scene.grid.startS + (scene.grid.pressure.length - 1) * scene.grid.stepS;

function fitShape(
  scene: Scene,
  signal: Series,
  look: FirstLook,
  shape: Shape,
  from: CurveFit | undefined,
  dark: DarkStretch[],
  tolerance: number,
): CurveFit {
  const layout = layoutOf(shape);
  const starts = from ? [startFrom(from, layout)] : startsFor(scene, look, layout, dark);
  const { predict, slopes } = createPredictor(scene, layout);
  const m = signal.value.length;
  const priors = priorsFor(layout, look, scene, signal, dark);
  const predicted = new Float64Array(m);
  let weight: Float64Array = new Float64Array(m).fill(1 / roughNoise(signal));
  const residuals = (x: Float64Array, into: Float64Array) => {
    predict(x, predicted);
    for (let i = 0; i < m; i += 1) into[i] = weight[i]! * (signal.value[i]! - predicted[i]!);
    priors.forEach((prior, k) => (into[m + k] = (x[prior.at]! - prior.mean) / prior.deviation));
  };
  const { size } = layout;
  const jacobian = (x: Float64Array, into: Float64Array) => {
    slopes(x, into);
    for (let i = 0; i < m; i += 1) for (let j = 0; j < size; j += 1) into[i * size + j]! *= -weight[i]!;
    into.fill(0, m * size);
    priors.forEach((prior, k) => (into[(m + k) * size + prior.at] = 1 / prior.deviation));
  };
  const search = (start: Float64Array, iterations: number, tolerance: number) =>
    leastSquares(residuals, start, m + priors.length, { iterations, tolerance, jacobian });
  const weighAt = (x: Float64Array) => {
    predict(x, predicted);
    const residual = signal.value.map((value, i) => value - predicted[i]!);
    weight = weightsFor(residual, predicted, levelsOf(x, layout, look));
  };
  // From far away even weights lead best: a clip changes everything under it.
  const far = !from || (shape.clipped && !from.shape.clipped);
  let start = starts[0]!;
  if (far) {
    // A few steps from each start tell which is worth going on from.
    const first = starts.map((x) => search(x, 8, rough)).reduce((a, b) => (b.squares < a.squares ? b : a));
    start = search(first.parameters, 25, rough).parameters;
  }
  // Weights and fit by turns: three rounds settle both.
  for (let round = 0; round < 2; round += 1) {
    weighAt(start);
    start = search(start, 15, rough).parameters;
  }
  weighAt(start);
  const fit = search(start, 120, tolerance);
  predict(fit.parameters, predicted);
  const residual = signal.value.map((value, i) => value - predicted[i]!);
  const standard = residual.map((value, i) => value * weight[i]!);
  if (layout.clip >= 0) centreClipped(standard, predicted, fit.parameters[layout.clip]!);
  return {
    shape,
    layout,
    scale: scene.scale,
    fit,
    predicted: Float64Array.from(predicted),
    residual,
    weight,
    deviance: isPhysical(fit.parameters, layout)
      ? devianceOf(residual, predicted, levelsOf(fit.parameters, layout, look))
      : Infinity,
    effective: effectiveCount(standard),
    priorDoubt: Float64Array.from(priors, (prior) => prior.doubt ?? 1),
  };
}

/** Noise cut off at a top has a mean below it; that is no slow wandering, so it must not pass for correlation. */
function centreClipped(standard: Float64Array, predicted: Float64Array, clip: number): void {
  const atClip = (_: number, i: number) => isClipped(predicted[i]!, clip);
  const clipped = standard.filter(atClip);
  const middle = mean(clipped);
  standard.forEach((value, i) => {
    if (atClip(value, i)) standard[i] = value - middle;
  });
}

/** Size of the noise before anything is fitted: from differences of neighbours. */
export function roughNoise(signal: Series): number {
  const steps = new Float64Array(signal.value.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (signal.value[i + 1]! - signal.value[i]!) / Math.SQRT2;
  let largest = 0;
  for (const value of signal.value) largest = Math.max(largest, Math.abs(value));
  return Math.max(robustDeviation(steps), 1e-3 * largest, 1e-9);
}

/** The levels between which flicker grows and shrinks again, and the last digit of the meter; in the signal's unit. */
interface Levels {
  dark: number;
  plateau: number;
  clip: number;
  digit: number;
}

/** Above a clip the flame goes on, and flickers as it does half way down; only the amplifier shows nothing of it. */
function levelsOf(x: Float64Array, layout: Layout, look: FirstLook): Levels {
  const { dark, plateau, digit } = look;
  if (layout.clip < 0) return { dark, plateau, digit, clip: Infinity };
  const flame = dark + x[layout.amplitude]!;
  return { dark, plateau: Math.min(2 * plateau, Math.max(plateau, flame)), digit, clip: x[layout.clip]! };
}

const isClipped = (predicted: number, clip: number): boolean => predicted >= clip - 2e-3 * Math.abs(clip);

/** 0 on the plateau and in the dark, 1 half way down. */
const shoulderness = (predicted: number, { dark, plateau, clip }: Levels) => {
  if (isClipped(predicted, clip)) return 0;
  const share = Math.min(1, Math.max(0, (predicted - dark) / (plateau - dark || 1)));
  return 4 * share * (1 - share);
};

/** Splits the scatter into its two parts: robustly on the plateau, then by moments on the shoulders. */
function noiseOf(residual: Float64Array, predicted: Float64Array, levels: Levels): Noise {
  const flat = residual.filter((_, i) => shoulderness(predicted[i]!, levels) < 0.2);
  const floor = Math.max(
    flat.length > 10 ? robustDeviation(flat, 0) : robustDeviation(residual, 0),
    2e-4 * Math.abs(levels.plateau),
    // A meter that rounds is never surer than its digit, however often it repeats it (rectangle, GUM F.2.2.1).
    levels.digit / Math.sqrt(12),
    1e-12,
  );
  let top = 0;
  let bottom = 0;
  residual.forEach((value, i) => {
    const s = shoulderness(predicted[i]!, levels) ** 2;
    // A single wild reading must not set the size of all.
    top += s * (Math.min(value * value, (0.3 * (levels.plateau - levels.dark)) ** 2) - floor * floor);
    bottom += s * s;
  });
  return { floor, shoulder: bottom > 0.5 ? Math.sqrt(Math.max(0, top / bottom)) : 0 };
}

const expectedDeviation = (noise: Noise, predicted: number, levels: Levels) =>
  Math.hypot(noise.floor, noise.shoulder * shoulderness(predicted, levels));

/** 1 / expected deviation, times the Huber weight's root beyond 2.5 deviations. */
function weightsFor(residual: Float64Array, predicted: Float64Array, levels: Levels): Float64Array {
  const noise = noiseOf(residual, predicted, levels);
  return residual.map((value, i) => {
    const deviation = expectedDeviation(noise, predicted[i]!, levels);
    const far = Math.abs(value) / deviation;
    return Math.sqrt(huberWeight(far, 2.5)) / deviation;
  });
}

/**
 * How many readings one independent reading stands for: the inflation of a mean's variance, from the autocorrelations up
 * to the first that vanishes.
 *
 * @param share  how much each reading counts, 0 to 1
 */
export function correlationInflation(standard: Float64Array, share: Float64Array): number {
  const counted = standard.map((value, i) => value * share[i]!);
  const square = lagProduct(counted, 0) / lagProduct(share, 0);
  let inflation = 1;
  for (let lag = 1; square > 0 && lag < Math.min(standard.length >> 2, 200); lag += 1) {
    const overlap = lagProduct(share, lag);
    if (overlap < 0.1 * lagProduct(share, 0)) break;
    const correlation = lagProduct(counted, lag) / overlap / square;
    if (correlation <= 0.02) break;
    inflation += 2 * correlation;
  }
  return inflation;
}

/** Readings divided by the inflation of their mean's variance. */
const effectiveCount = (standard: Float64Array): number =>
  standard.length / correlationInflation(standard, new Float64Array(standard.length).fill(1));

/** Whether a flame and a meter can be so: more flame gives more signal, and the delay lies within what was looked for. */
const isPhysical = (x: Float64Array, layout: Layout): boolean =>
  x[layout.amplitude]! > 0 && x[layout.lag]! > -1 && x[layout.lag]! < longestLag + 0.5;

/** -2 log likelihood per reading of a normal noise whose size follows the shoulder. */
function devianceOf(residual: Float64Array, predicted: Float64Array, levels: Levels): number {
  const noise = noiseOf(residual, predicted, levels);
  let deviance = 0;
  residual.forEach((value, i) => {
    const deviation = expectedDeviation(noise, predicted[i]!, levels);
    // Bounded like the weights, so that outliers do not choose the model.
    const far = Math.min(Math.abs(value) / deviation, 5);
    deviance += far * far + 2 * log(deviation);
  });
  return deviance / residual.length;
}

interface Prior {
  at: number;
  mean: number;
  deviation: number;
  /** Doubt in the replicates as a multiple of `deviation`; 1 when absent. */
  doubt?: number;
}

/**
 * Weak knowledge that keeps the search sane where the data say nothing. A lag of 1.2 s give or take 2 s is common
 * practice (detector, amplifier and meter together 0.3 to 3 s); the rest is wide against anything that a sweep shows.
 */
function priorsFor(layout: Layout, look: FirstLook, scene: Scene, signal: Series, dark: DarkStretch[]): Prior[] {
  const { scale } = scene;
  const swing = Math.max(Math.abs(look.plateau), 1e-9);
  const priors: Prior[] = [
    { at: layout.lag, mean: 1.2, deviation: 2 },
    { at: layout.slowness, mean: Math.sqrt(0.7), deviation: 0.5 },
  ];
  if (layout.dark >= 0) priors.push({ at: layout.dark, mean: look.dark, deviation: 0.3 * swing });
  for (const at of [layout.lowWidth, layout.highWidth])
    if (at >= 0) priors.push({ at, mean: log(0.06 * scale.half), deviation: 1.2 });
  if (layout.low >= 0)
    priors.push({ at: layout.low, mean: look.halfLow ?? scale.middle - scale.half, deviation: scale.half });
  if (layout.high >= 0)
    priors.push({ at: layout.high, mean: look.halfHigh ?? scale.middle + scale.half, deviation: scale.half });
  if (layout.clip >= 0) {
    priors.push({ at: layout.amplitude, mean: 1.15 * swing, deviation: 0.3 * swing });
    // Flicker of one to three per cent (common practice). Held tightly, for noise cut off at the top looks soft as well, and
    // doubted by more in the replicates.
    priors.push({ at: layout.softness, mean: log(0.007 * swing), deviation: 0.1, doubt: 3 });
    // Clipped noise lies on one side of the level only, and its mean below it: the level is the top itself.
    const { top, share } = topOf(signal);
    const deviation = 1e-6 * Math.abs(top);
    // The last digit of the meter is the doubt of the level: a rectangle, GUM F.2.2.1.
    if (share > 0.2)
      priors.push({ at: layout.clip, mean: top, deviation, doubt: quantum(signal.value) / Math.sqrt(12) / deviation });
  }
  if (layout.flameOut >= 0) {
    const end = endOf(scene);
    dark.forEach((stretch, k) => {
      priors.push({ at: layout.flameOut + 2 * k, mean: stretch.lostS, deviation: 2 });
      priors.push({ at: layout.flameOut + 2 * k + 1, mean: Math.min(stretch.burnsS, end + 10), deviation: 2 });
    });
  }
  if (layout.tilt >= 0) priors.push({ at: layout.tilt, mean: 0, deviation: 0.5 });
  if (layout.bow >= 0) priors.push({ at: layout.bow, mean: 0, deviation: 0.5 });
  if (layout.sag >= 0) {
    priors.push({ at: layout.sag, mean: 0, deviation: 0.5 });
    priors.push({ at: layout.knee, mean: 0, deviation: 0.4 });
  }
  for (const at of [layout.lowSkew, layout.highSkew]) if (at >= 0) priors.push({ at, mean: 0, deviation: 0.7 });
  return priors;
}

/** Several starts: the lag as seen and shorter, the shoulders where the signal passed half way or just beyond the ends. */
function startsFor(scene: Scene, look: FirstLook, layout: Layout, dark: DarkStretch[]): Float64Array[] {
  const { middle, half } = scene.scale;
  const end = endOf(scene);
  const starts: Float64Array[] = [];
  for (const lag of new Set([Math.min(Math.max(look.lagS, 0.3), 4), 1]))
    for (const width of [0.04, 0.12]) {
      const x = new Float64Array(layout.size);
      const put = (at: number, value: number) => {
        if (at >= 0) x[at] = value;
      };
      put(layout.amplitude, look.plateau - (layout.dark >= 0 ? look.dark : 0));
      put(layout.dark, look.dark);
      put(layout.lag, lag);
      put(layout.slowness, Math.sqrt(0.6 * lag));
      put(layout.low, look.halfLow ?? middle - 1.05 * half);
      put(layout.high, look.halfHigh ?? middle + 1.05 * half);
      put(layout.lowWidth, log(width * half));
      put(layout.highWidth, log(width * half));
      dark.forEach((stretch, k) => {
        if (layout.flameOut < 0) return;
        x[layout.flameOut + 2 * k] = stretch.lostS;
        x[layout.flameOut + 2 * k + 1] = Math.min(stretch.burnsS, end + 10);
      });
      starts.push(x);
    }
  return starts;
}

/** The parameters of an earlier fit, with new parts at rest. */
function startFrom(earlier: CurveFit, layout: Layout): Float64Array {
  const x = new Float64Array(layout.size);
  const names = [
    'amplitude',
    'dark',
    'low',
    'lowWidth',
    'high',
    'highWidth',
    'lowSkew',
    'highSkew',
    'tilt',
    'bow',
    'sag',
    'knee',
    'lag',
    'slowness',
  ] as const;
  for (const name of names)
    if (layout[name] >= 0 && earlier.layout[name] >= 0) x[layout[name]] = earlier.fit.parameters[earlier.layout[name]]!;
  // At a sag of nothing the knee would have no influence.
  if (layout.sag >= 0 && earlier.layout.sag < 0) x[layout.sag] = 0.1;
  if (layout.softness >= 0)
    x[layout.softness] =
      earlier.layout.softness >= 0
        ? earlier.fit.parameters[earlier.layout.softness]!
        : log(0.007 * Math.abs(earlier.fit.parameters[earlier.layout.amplitude]!));
  if (layout.clip >= 0) {
    const level = earlier.fit.parameters[earlier.layout.amplitude]!;
    x[layout.clip] = level + (layout.dark >= 0 ? x[layout.dark]! : 0);
    if (earlier.layout.clip >= 0) x[layout.clip] = earlier.fit.parameters[earlier.layout.clip]!;
    else x[layout.amplitude] = 1.1 * level;
  }
  if (layout.flameOut >= 0) x.set(earlier.fit.parameters.subarray(earlier.layout.flameOut), layout.flameOut);
  return x;
}
