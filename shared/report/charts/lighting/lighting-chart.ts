import { pressureUnitLabel } from '../../../model/format.ts';
import type { LightingView } from '../../../model/results/lighting-view.ts';
import { axes, type Frame, legend, type LegendEntry } from '../axes.ts';
import { seriesStyles, type SeriesName } from '../chart-style.ts';
import { type Chart, drawing } from '../drawing.ts';
import { type Corner, countCorners } from './count-corners.ts';
import { lightingPlaces, errorBarPath, type TriedPlace } from './lighting-places.ts';
import { extent, padded, type Scale } from '../scale.ts';
import { element, label, pathBetween, pathThrough, seriesColor, seriesStroke } from '../svg.ts';
import { width } from '../sweep-frame.ts';
import { trialMark } from '../trial-strip.ts';
import { settingLines, windowBand } from '../uprights.ts';

const upper: Frame = { left: 62, right: 706, top: 46, bottom: 176 };
const lower: Frame = { left: 62, right: 706, top: 200, bottom: 340 };

/**
 * Where the pilot lights: above, the probability to light with the spark at once over pressure, with the signal curve; below, every trial
 * by pressure and spark delay, with the region that is shown to light and the one in doubt.
 */
export function lightingChart(view: LightingView): Chart {
  const { tried, signal, trialSeconds, setPoint, asLeft } = view;
  const moments = [setPoint, asLeft].filter((value) => value !== undefined);
  const pressures = tried.map(({ pressure }) => pressure);
  const xSpan = padded(extent(signal.pressure, pressures, moments), 0.03);
  const above = axes(upper, xSpan, [0, 105], { y: 'Percent' }, { x: 9, y: 5 });
  const longest = Math.max(trialSeconds, ...tried.map(({ delayS }) => delayS));
  const below = axes(
    lower,
    xSpan,
    [-0.1 * longest, 1.08 * longest],
    { x: `Pilot pressure, ${pressureUnitLabel(view.pressureUnit)}`, y: 'Spark delay, s' },
    { x: 9, y: 5 },
  );
  const { x } = below;
  const { places, hatch, outline, proved } = lightingPlaces(view, x, below.y);
  const countAt = countCorners(places);
  const key = legend(entries(view), lower.left, lower.bottom + 54, lower.right);
  const height = Math.ceil(lower.bottom + 54 + key.height);
  const proof = { d: proved, 'stroke-linejoin': 'round', 'stroke-linecap': 'round' } as const;
  const row = upper.top - 16;
  const body = [
    ...[upper, lower].map((frame) => (view.window ? windowBand(x(view.window[0]), x(view.window[1]), frame) : '')),
    above.markup,
    below.markup,
    signalLine(view, x, above.y),
    probability(view, x, above.y),
    element('path', { d: hatch + outline, fill: 'none', stroke: seriesColor('in-doubt'), 'stroke-width': 1 }),
    // The fill covers the hatch, and the seams between the pieces.
    element('path', { ...proof, fill: 'none', stroke: seriesColor('proved'), 'stroke-width': 5 }),
    element('path', { ...proof, fill: '#ffffff' }),
    element('path', { ...proof, fill: seriesColor('proved'), 'fill-opacity': 0.3 }),
    ...places.map((place, i) => trialMark(place.lit, place.x, place.y) + countLabel(place, countAt[i])),
    settingLines(view, view.pressureUnit, x, { rows: { setPoint: row, asLeft: row }, bottom: lower.bottom }),
    key.markup,
  ].join('');
  return { svg: drawing(width, height, body), width, height };
}

/** How many trials one mark stands for, where it is more than one. */
function countLabel({ x, y, count }: TriedPlace, corner: Corner | undefined): string {
  if (!corner) return '';
  const isLeft = corner.side === 'left';
  return label(`×${count}`, isLeft ? x - 7 : x + 7, corner.row === 'above' ? y - 3 : y + 11, {
    'font-size': 10,
    ...(isLeft && { 'text-anchor': 'end' }),
  });
}

function signalLine({ signal }: LightingView, x: Scale, y: Scale): string {
  const shown = (percent: number) => y(Math.min(105, Math.max(0, percent)));
  const points = Array.from(signal.pressure, (p, i) => [x(p), shown(signal.percent[i]!)] as const);
  return element('path', { d: pathThrough(points), fill: 'none', stroke: seriesColor('curve'), 'stroke-width': 1.5 });
}

function probability({ band }: LightingView, x: Scale, y: Scale): string {
  const between = Array.from(band.pressure, (p, i) => [x(p), y(band.low[i]!), y(band.high[i]!)] as const);
  const through = Array.from(band.pressure, (p, i) => [x(p), y(band.probability[i]!)] as const);
  return (
    element('path', { d: pathBetween(between), fill: seriesColor('lighting'), 'fill-opacity': 0.22, stroke: 'none' }) +
    element('path', { d: pathThrough(through), fill: 'none', 'stroke-width': 2, ...seriesStroke('lighting') }) +
    element('path', { d: errorBarPath(band, x, y), fill: 'none', stroke: seriesColor('lighting'), 'stroke-width': 2 })
  );
}

function entries({ tried, regions, window }: LightingView): LegendEntry[] {
  const line = (name: SeriesName) => (px: number, py: number) =>
    element('line', { x1: px - 10, x2: px + 10, y1: py, y2: py, 'stroke-width': 2, ...seriesStroke(name) });
  const area = (name: SeriesName, opacity: number) => (px: number, py: number) =>
    element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill: seriesColor(name), 'fill-opacity': opacity });
  const framed = (name: SeriesName, opacity: number, d: string) => (px: number, py: number) =>
    area(name, opacity)(px, py) +
    element('path', { d: `M${px - 10} ${py - 5}h20v10h-20z${d}`, fill: 'none', stroke: seriesColor(name) });
  const isLit = tried.some(({ lit }) => lit);
  const isFailed = tried.some(({ lit }) => !lit);
  const list: (LegendEntry | false | undefined)[] = [
    { draw: line('lighting'), text: `${seriesStyles.lighting.name}, spark at once` },
    { draw: line('curve'), text: 'signal curve, percent of its plateau' },
    window && { draw: area('window', 0.3), text: 'window between guarded ends' },
    isLit && { draw: (px, py) => trialMark(true, px, py), text: seriesStyles.lit.name },
    isFailed && { draw: (px, py) => trialMark(false, px, py), text: seriesStyles['not-lit'].name },
    regions && { draw: framed('proved', 0.3, ''), text: seriesStyles.proved.name },
    regions && {
      draw: (px, py) =>
        framed('in-doubt', 0, `M${px - 10} ${py + 2}l7 -7M${px - 5} ${py + 5}l10 -10M${px + 3} ${py + 5}l7 -7`)(px, py),
      text: seriesStyles['in-doubt'].name,
    },
  ];
  return list.filter((entry) => entry !== false && entry !== undefined);
}
