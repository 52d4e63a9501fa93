import { useCallback, useMemo } from 'react';
import type { PreviewCurve } from '../../../shared/model/logger/preview.ts';
import { unitLabel } from '../../../shared/model/format.ts';
import { roleLabels } from '../../../shared/report/labels.ts';
import { axisFromZero } from '../../plot/geometry/axis.ts';
import { linePath } from '../../plot/geometry/paths.ts';
import { type Drawing, StaticMarks } from '../../plot/Marks.tsx';
import { PlotFrame } from '../../plot/PlotFrame.tsx';
import { type Scales, toPixels } from '../../plot/scales.ts';

/** Above this, times are shown in minutes. Seconds. */
const longestInSeconds = 180;

/** Pressure and signal against time as they would be read. */
export function PreviewPlots({ curves }: { curves: PreviewCurve[] }) {
  const drawn = (['pilot_pressure', 'flame_signal'] as const).flatMap(
    (role) => curves.find((curve) => curve.role === role) ?? [],
  );
  if (drawn.length === 0) return null;
  return (
    <div className="preview-plots">
      {drawn.map((curve) => (
        <PreviewPlot key={curve.role} curve={curve} />
      ))}
    </div>
  );
}

function PreviewPlot({ curve }: { curve: PreviewCurve }) {
  const { role, unit, elapsedS, value, readings, flagged } = curve;
  const title = `${roleLabels[role]}, ${unitLabel(unit)}`;
  const start = elapsedS.reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);
  const spanS = elapsedS.reduce((most, t) => Math.max(most, t), 0) - (Number.isFinite(start) ? start : 0);
  const perUnit = spanS > longestInSeconds ? 60 : 1;
  const x = useMemo(
    () => ({ ...axisFromZero(spanS / perUnit, 0, 4), label: perUnit === 60 ? 'Time, min' : 'Time, s' }),
    [spanS, perUnit],
  );
  const y = useMemo(() => {
    const highest = value.reduce<number>((most, one) => Math.max(most, one ?? 0), 0);
    const lowest = value.reduce<number>((least, one) => Math.min(least, one ?? 0), 0);
    return { ...axisFromZero(highest, lowest, 3), label: '' };
  }, [value]);
  const draw = useCallback(
    (scales: Scales): Drawing => {
      const n = elapsedS.length;
      const px = toPixels(elapsedS, n, (t) => scales.x((t - start) / perUnit));
      const numbers = value.map((one) => one ?? Number.NaN);
      const name = role === 'flame_signal' ? 'line-signal' : 'line-pressure';
      return { [name]: linePath(px, toPixels(numbers, n, scales.y), px.keys()) };
    },
    [elapsedS, value, start, perUnit, role],
  );
  const count = `${readings.toLocaleString('en-US')} readings${flagged > 0 ? `, ${flagged.toLocaleString('en-US')} without a number` : ''}`;
  return (
    <div className="preview-plot">
      <h3>
        {title} <span className="soft">{count}</span>
      </h3>
      <div className="preview-drawing">
        <PlotFrame x={x} y={y} description={`${title}, against time; ${count}`}>
          <StaticMarks draw={draw} />
        </PlotFrame>
      </div>
    </div>
  );
}
