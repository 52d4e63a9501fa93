import { useCallback, useMemo } from 'react';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { Trial } from '../../shared/model/capture.ts';
import { formatPressure, formatSignal, pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { litAt } from '../../shared/model/stretches.ts';
import { convertPressure } from '../../shared/model/units.ts';
import { judgedTrials } from '../../shared/model/trials/valid-trials.ts';
import { seriesStyles } from '../../shared/report/charts/chart-style.ts';
import type { Limits } from '../state/limits.ts';
import { thinScatter } from './geometry/decimate.ts';
import { axisFromZero } from './geometry/axis.ts';
import { CurveLabels } from './CurveLabels.tsx';
import { LimitMarks } from './LimitMarks.tsx';
import { StaticMarks, type Drawing } from './Marks.tsx';
import { bandPath, linePath, symbolPath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { settingDrawing, trialMarks, uprightPath, windowPath } from './setting-drawing.ts';
import { toPixels, type Scales } from './scales.ts';
import type { Setup } from '../../shared/model/setup.ts';

/** Lanes for the trials, in pixels above the pressure axis: spark with the gas, and above them delayed spark. */
const plainLane = 22;
const delayedLane = 44;

/** Arms of the brackets that the ends are drawn as, pixels; they point into the window. */
const armPx = 7;

/** Each in a row of its own. */
const settingMarks = { setPoint: { below: 14, r: 12 }, asLeft: { below: 44, r: 9 } };

/** The steady-state curve with its interval, the window with its ends, the set point, and the light-off trials that count. */
export function CurvePlot({
  analysis,
  trials,
  setup,
  limits,
}: {
  analysis: AnalysisDetail;
  trials: readonly Trial[];
  setup: Setup;
  limits: Limits;
}) {
  const { result, curve, pairs } = analysis;
  const { pressureUnit, signalUnit } = result;
  const placedTrials = useMemo(
    () =>
      judgedTrials(trials, setup).map((trial) => ({
        ...trial,
        at: convertPressure(trial.pressure, trial.unit, pressureUnit),
      })),
    [trials, setup, pressureUnit],
  );
  const x = useMemo(() => {
    const highest = Math.max(
      analysis.testedRange[1] * 1.04,
      (limits.makerRange?.high ?? 0) * 1.06,
      ...placedTrials.map((t) => t.at),
    );
    return { ...axisFromZero(highest, 0, 6), label: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}` };
  }, [analysis, limits.makerRange?.high, placedTrials, pressureUnit]);
  const y = useMemo(() => {
    let highest = (limits.minimumSignal ?? 0) * 1.2;
    // Not by the band, as in the report: at a cliff it is many times as high as any signal.
    for (const value of curve.signal) if (value > highest) highest = value;
    for (const value of pairs.signal) if (value > highest) highest = value;
    return { ...axisFromZero(highest * 1.03), label: `Flame signal, ${signalUnitLabel(signalUnit)}` };
  }, [curve, pairs, limits.minimumSignal, signalUnit]);

  const draw = useCallback(
    (scales: Scales): Drawing => {
      const { area } = scales;
      const bottom = area.y + area.height;
      const px = toPixels(pairs.pressure, pairs.pressure.length, scales.x);
      const py = toPixels(pairs.signal, pairs.signal.length, scales.y);
      const plotted = thinScatter(px, py, px.length, 5);
      const isLit = litAt(result.phases);
      const lit = new Set(plotted.filter((i) => isLit(pairs.elapsedS[i]!)));
      const inDirection = (direction: number) =>
        plotted.filter((i) => lit.has(i) && Math.sign(pairs.direction[i]!) === direction);
      const n = curve.pressure.length;
      const cx = toPixels(curve.pressure, n, scales.x);
      const bracket = (pressure: number | undefined, arm: number) =>
        pressure === undefined ? '' : `M${scales.x(pressure) + arm} ${area.y}h${-arm}V${bottom}h${arm}`;
      const { low, high } = result.window;
      const trialPath = (lit: boolean) => {
        const chosen = placedTrials.filter((trial) => trial.lit === lit);
        const tx = chosen.map((trial) => scales.x(trial.at));
        const ty = chosen.map((trial) => bottom - ((trial.sparkDelayS ?? 0) > 0 ? delayedLane : plainLane));
        return trialMarks(lit, tx, ty);
      };
      return {
        'area-window': low && high ? windowPath(low.value, high.value, scales) : '',
        'mark-unlit': symbolPath(
          seriesStyles.unlit.mark,
          px,
          py,
          plotted.filter((i) => !lit.has(i)),
          3,
        ),
        'mark-at-rest': symbolPath(seriesStyles['at-rest'].mark, px, py, inDirection(0), 3),
        'mark-turning-out': symbolPath(seriesStyles['turning-out'].mark, px, py, inDirection(-1), 3),
        'mark-turning-in': symbolPath(seriesStyles['turning-in'].mark, px, py, inDirection(1), 3),
        'line-required-signal': `M${area.x} ${scales.y(result.requiredSignal.value)}H${area.x + area.width}`,
        'band-curve': bandPath(cx, toPixels(curve.low, n, scales.y), toPixels(curve.high, n, scales.y), n),
        'line-curve': linePath(cx, toPixels(curve.signal, n, scales.y), cx.keys()),
        'line-low-end': bracket(low?.value, armPx),
        'line-high-end': bracket(high?.value, -armPx),
        'line-guarded-end': uprightPath(low?.guarded, scales) + uprightPath(high?.guarded, scales),
        ...settingDrawing({ setPoint: result.setPoint?.value, asLeft: result.asLeft?.value }, scales, settingMarks),
        'mark-lit': trialPath(true),
        'mark-not-lit': trialPath(false),
      };
    },
    [curve, pairs, result, placedTrials],
  );

  // Where the maker's minimum is what is required, one line stands for both.
  const drawnLimits =
    result.requiredSignal.basis === 'minimum-signal'
      ? { makerRange: limits.makerRange, minimumSignal: undefined }
      : limits;
  return (
    <PlotFrame x={x} y={y} description={describe(analysis)}>
      <LimitMarks limits={drawnLimits} pressureUnit={pressureUnit} signalUnit={signalUnit} />
      <StaticMarks draw={draw} />
      <CurveLabels result={result} />
    </PlotFrame>
  );
}

function describe({ result }: AnalysisDetail): string {
  const { pressureUnit: unit, window, setPoint } = result;
  const ends = [
    window.low && `low end ${formatPressure(window.low.value, unit)}`,
    window.high && `high end ${formatPressure(window.high.value, unit)}`,
    setPoint && `set point ${formatPressure(setPoint.value, unit)}`,
  ].filter(Boolean);
  return `Flame signal against pilot pressure: plateau ${formatSignal(result.plateau.value, result.signalUnit)}, ${ends.join(', ')}`;
}
