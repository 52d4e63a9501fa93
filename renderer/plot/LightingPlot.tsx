import { useCallback, useMemo } from 'react';
import type { LightingView } from '../../shared/model/results/lighting-view.ts';
import { pressureUnitLabel } from '../../shared/model/format.ts';
import { countCorners } from '../../shared/report/charts/lighting/count-corners.ts';
import { lightingPlaces, errorBarPath } from '../../shared/report/charts/lighting/lighting-places.ts';
import { axisFromZero } from './geometry/axis.ts';
import { bandPath, linePath } from './geometry/paths.ts';
import { StaticMarks, type Drawing } from './Marks.tsx';
import { PlotFrame } from './PlotFrame.tsx';
import { PlotLabel } from './PlotLabel.tsx';
import { settingDrawing, trialMarks, windowPath } from './setting-drawing.ts';
import { toPixels, useScales, type Scales } from './scales.ts';

const settingMarks = { setPoint: { below: 9, r: 9 }, asLeft: { below: 9, r: 7 } };

const guardedWindow = ({ window }: LightingView, scales: Scales): string =>
  window ? windowPath(window[0], window[1], scales) : '';

/** Every trial by pressure and spark delay: lit or not by shape, with what is shown to light and what is in doubt. */
export function DelayPlot({ view }: { view: LightingView }) {
  const x = usePressureAxis(view);
  const y = useMemo(() => {
    const longest = Math.max(view.trialSeconds, ...view.tried.map(({ delayS }) => delayS));
    const axis = axisFromZero(longest, 0, 4);
    // Room for the marks of a spark at once.
    return { ...axis, domain: [-0.12 * longest, 1.1 * axis.domain[1]] as [number, number], label: 'Spark delay, s' };
  }, [view]);
  const draw = useCallback(
    (scales: Scales): Drawing => {
      const { places, hatch, outline, proved } = lightingPlaces(view, scales.x, scales.y);
      const marks = (lit: boolean) => {
        const chosen = places.filter((place) => place.lit === lit);
        return trialMarks(
          lit,
          chosen.map((place) => place.x),
          chosen.map((place) => place.y),
        );
      };
      return {
        'area-window': guardedWindow(view, scales),
        'hatch-in-doubt': hatch + outline,
        'ground-proved': proved,
        'area-proved': proved,
        ...settingDrawing(view, scales, settingMarks),
        'mark-lit': marks(true),
        'mark-not-lit': marks(false),
      };
    },
    [view],
  );
  return (
    <PlotFrame x={x} y={y} description={`Light-off trials by pressure and spark delay. ${view.words.join(' ')}`}>
      <StaticMarks draw={draw} />
      <Counts view={view} />
    </PlotFrame>
  );
}

/** The probability to light over pressure with its interval, and the signal curve, both in percent. */
export function LightingPlot({ view }: { view: LightingView }) {
  const x = usePressureAxis(view);
  const y = useMemo(() => ({ ...axisFromZero(100, 0, 4), domain: [0, 108] as [number, number], label: 'Percent' }), []);
  const draw = useCallback(
    (scales: Scales): Drawing => {
      const { band, signal } = view;
      const n = band.pressure.length;
      const bx = toPixels(band.pressure, n, scales.x);
      const sx = toPixels(signal.pressure, signal.pressure.length, scales.x);
      return {
        'area-window': guardedWindow(view, scales),
        'line-curve': linePath(sx, toPixels(signal.percent, sx.length, scales.y), sx.keys()),
        'band-lighting': bandPath(bx, toPixels(band.low, n, scales.y), toPixels(band.high, n, scales.y), n),
        'line-lighting': linePath(bx, toPixels(band.probability, n, scales.y), bx.keys()),
        'bar-lighting': errorBarPath(band, scales.x, scales.y),
        ...settingDrawing(view, scales, settingMarks),
      };
    },
    [view],
  );
  return (
    <PlotFrame x={x} y={y} description="Probability to light with the spark at once against pilot pressure, and signal">
      <StaticMarks draw={draw} />
    </PlotFrame>
  );
}

function usePressureAxis({ signal, tried, pressureUnit }: LightingView) {
  return useMemo(() => {
    const label = `Pilot pressure, ${pressureUnitLabel(pressureUnit)}`;
    const highest = Math.max(signal.pressure.at(-1) ?? 0, ...tried.map(({ pressure }) => pressure));
    return { ...axisFromZero(highest * 1.03, 0, 6), label };
  }, [signal, tried, pressureUnit]);
}

/** How many trials one mark stands for, where it is more than one. */
function Counts({ view }: { view: LightingView }) {
  const scales = useScales();
  if (!scales) return null;
  const { places } = lightingPlaces(view, scales.x, scales.y);
  const corners = countCorners(places);
  return places.map(({ x, y, lit, count }, i) => {
    const corner = corners[i];
    if (!corner) return null;
    const isLeft = corner.side === 'left';
    return (
      <PlotLabel
        key={`${x} ${y} ${lit}`}
        x={isLeft ? x - 9 : x + 9}
        y={corner.row === 'above' ? y - 6 : y + 16}
        anchor={isLeft ? 'end' : 'start'}
      >
        {`×${count}`}
      </PlotLabel>
    );
  });
}
