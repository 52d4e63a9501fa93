import { useCallback, useMemo } from 'react';
import type { ComparisonDetail } from '../../shared/model/results/analysis-result.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, convertSignal } from '../../shared/model/units.ts';
import { axisFromZero } from './geometry/axis.ts';
import { StaticMarks, type Drawing } from './Marks.tsx';
import { bandPath, linePath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { toPixels, type Scales } from './scales.ts';

/** Two sweeps of one burner in one plot, in the units of the later one: both curves, and both windows as bars below. */
export function OverlayPlot({ comparison }: { comparison: ComparisonDetail }) {
  const { pressureUnit, signalUnit } = comparison.result;
  const [before, after] = useMemo(
    () =>
      [comparison.before, comparison.after].map(({ result, curve }) => {
        const toP = (value: number) => convertPressure(value, result.pressureUnit, pressureUnit);
        const toS = (value: number) => convertSignal(value, result.signalUnit, signalUnit) ?? Number.NaN;
        const { low, high } = result.window;
        return {
          pressure: curve.pressure.map(toP),
          signal: curve.signal.map(toS),
          low: curve.low.map(toS),
          high: curve.high.map(toS),
          window: low && high && ([toP(low.value), toP(high.value)] as const),
          setPoint: result.setPoint && toP(result.setPoint.value),
        };
      }),
    [comparison, pressureUnit, signalUnit],
  );
  const x = useMemo(() => {
    const highest = Math.max(before!.pressure.at(-1) ?? 0, after!.pressure.at(-1) ?? 0);
    return { ...axisFromZero(highest * 1.03, 0, 6), label: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}` };
  }, [before, after, pressureUnit]);
  const y = useMemo(() => {
    const highest = [...before!.signal, ...after!.signal].reduce(
      (highest, value) => (value > highest ? value : highest),
      0,
    );
    return { ...axisFromZero(highest * 1.05), label: `Flame signal, ${signalUnitLabel(signalUnit)}` };
  }, [before, after, signalUnit]);

  const draw = useCallback(
    (scales: Scales): Drawing => {
      const { area } = scales;
      const pathsOf = (one: NonNullable<typeof before>, barAbove: number) => {
        const n = one.pressure.length;
        const px = toPixels(one.pressure, n, scales.x);
        const top = area.y + area.height - barAbove;
        return {
          line: linePath(px, toPixels(one.signal, n, scales.y), px.keys()),
          band: bandPath(px, toPixels(one.low, n, scales.y), toPixels(one.high, n, scales.y), n),
          bar: one.window
            ? `M${scales.x(one.window[0])} ${top}H${scales.x(one.window[1])}v14H${scales.x(one.window[0])}Z`
            : '',
          setPoint: one.setPoint === undefined ? '' : `M${scales.x(one.setPoint)} ${top - 8}v30`,
        };
      };
      const earlier = pathsOf(before!, 44);
      const current = pathsOf(after!, 22);
      return {
        'band-earlier': earlier.band,
        'band-curve': current.band,
        'line-earlier': earlier.line + earlier.setPoint,
        'line-curve': current.line,
        'bar-earlier': earlier.bar,
        'area-window': current.bar,
        'bar-curve': current.bar,
        'line-set-point': current.setPoint,
      };
    },
    [before, after],
  );
  return (
    <PlotFrame x={x} y={y} description={comparison.result.summary.join(' ')}>
      <StaticMarks draw={draw} />
    </PlotFrame>
  );
}
