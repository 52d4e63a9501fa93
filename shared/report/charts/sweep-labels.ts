import type { AnalysisDetail } from '../../model/results/analysis-result.ts';
import { pressureNumber, signalNumber } from '../../model/format.ts';
import type { Setup } from '../../model/setup.ts';
import { convertPressure } from '../../model/units.ts';
import { round, type Scale } from './scale.ts';
import { element, label, seriesColor, seriesStroke } from './svg.ts';
import { frame } from './sweep-frame.ts';
import { settingLines, upright } from './uprights.ts';

/** Ends, set point and as-left pressure as vertical lines; each kind has its own row for its label, so labels never overlap. */
export function uprights({ result }: AnalysisDetail, x: Scale): string {
  const unit = result.pressureUnit;
  // The arms of the bracket point into the window.
  const bracket = (side: 'low' | 'high', value: number) => {
    const arm = side === 'low' ? 6 : -6;
    return element('path', {
      d: `M${round(x(value) + arm)} ${frame.top}h${-arm}V${frame.bottom}h${arm}`,
      fill: 'none',
      'stroke-width': 1.8,
      ...seriesStroke(`${side}-end`),
    });
  };
  const parts: string[] = [];
  for (const side of ['low', 'high'] as const) {
    const end = result.window[side];
    if (!end) continue;
    const text = `${side} end ${pressureNumber(end.value, unit)}`;
    const anchor = side === 'low' ? 'end' : 'start';
    // The label goes inside where it would run off the page.
    const outwards = side === 'low' ? x(end.value) > frame.left + 80 : x(end.value) < frame.right - 90;
    const turned = anchor === 'end' ? 'start' : 'end';
    const dx = side === 'low' ? -4 : 4;
    parts.push(
      upright(`${side}-end`, x(end.value), frame.top - 14, frame.bottom),
      bracket(side, end.value),
      upright('guarded-end', x(end.guarded), frame.top, frame.bottom),
    );
    parts.push(
      label(text, x(end.value) + (outwards ? dx : -dx), frame.top - 6, { 'text-anchor': outwards ? anchor : turned }),
    );
  }
  const settings = { setPoint: result.setPoint?.value, asLeft: result.asLeft?.value };
  const rows = { setPoint: frame.top - 32, asLeft: frame.top - 50 };
  parts.push(settingLines(settings, unit, x, { rows, bottom: frame.bottom }));
  return parts.join('');
}

/**
 * Label of the required signal: inside the window just below the line, where neither readings nor curve pass; without a
 * window at the right.
 */
export function requiredLabel({ result }: AnalysisDetail, x: Scale, y: number): string {
  const text = `required ${signalNumber(result.requiredSignal.value, result.signalUnit)}`;
  const { low, high } = result.window;
  return low && high
    ? label(text, widestGap(x(low.value), x(high.value), verticals(result, x)), y + 14, { 'text-anchor': 'middle' })
    : label(text, frame.right - 4, y - 5, { 'text-anchor': 'end' });
}

/** Where the vertical lines of ends, set point and as-left pressure are. */
const verticals = ({ window, setPoint, asLeft }: AnalysisDetail['result'], x: Scale): number[] =>
  [window.low?.value, window.low?.guarded, window.high?.value, window.high?.guarded, setPoint?.value, asLeft?.value]
    .filter((value) => value !== undefined)
    .map((value) => x(value));

/** Middle of the widest gap that `cuts` leave between `left` and `right`: room for a label that no line runs through. */
function widestGap(left: number, right: number, cuts: number[]): number {
  const edges = [left, ...cuts.filter((cut) => cut > left && cut < right).sort((a, b) => a - b), right];
  let [middle, widest] = [(left + right) / 2, 0];
  for (let i = 1; i < edges.length; i += 1) {
    const [from, to] = [edges[i - 1]!, edges[i]!];
    if (to - from > widest) [middle, widest] = [(from + to) / 2, to - from];
  }
  return middle;
}

/** The maker's range as a bar along the bottom of the plot. */
export function makerBar({ makerPressureRange: range }: Setup, { result }: AnalysisDetail, x: Scale): string {
  if (!range) return '';
  const inside = (value: number) =>
    Math.min(frame.right, Math.max(frame.left, x(convertPressure(value, range.unit, result.pressureUnit))));
  const y = frame.bottom - 6;
  const [left, right] = [inside(range.low), inside(range.high)];
  const stroke = seriesColor('maker-range');
  const post = (px: number) => element('line', { x1: px, x2: px, y1: y - 4, y2: y + 4, stroke, 'stroke-width': 2 });
  return (
    element('line', { x1: left, x2: right, y1: y, y2: y, stroke, 'stroke-width': 2 }) +
    post(left) +
    post(right) +
    label("maker's range", widestGap(left, right, verticals(result, x)), y - 5, {
      'text-anchor': 'middle',
      'font-size': 10,
    })
  );
}
