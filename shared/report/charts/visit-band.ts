import { type Stretch, stretchKinds } from '../../model/stretches.ts';
import type { Frame, LegendEntry } from './axes.ts';
import { seriesStyles, type StretchStyle, stretchStyles } from './chart-style.ts';
import type { Scale } from './scale.ts';
import { stretchPath } from './stretch-path.ts';
import { element, ink, label, seriesMarks, seriesOutline } from './svg.ts';
import type { VisitItem } from './visit-items.ts';

/** Heights of the rows, and the distance between them, pixels. */
const stretchHeight = 15;
const sweepHeight = 13;
const trialHeight = 24;
const gap = 5;
/** Narrower than this a stretch has no room for its letter. */
const letterWidth = 11;
/** The number of a trial takes this much with the space beside it. */
const numberWidth = 15;

/**
 * The time line of a visit in three rows below `top`: what the burner did by stretch, the sweeps, and the trials, lit or not by their shape.
 * `x` goes from seconds to pixels.
 */
export function visitBand(
  stretches: readonly Stretch[],
  items: readonly VisitItem[],
  x: Scale,
  frame: Pick<Frame, 'left' | 'right'>,
  top: number,
): { markup: string; height: number; entries: LegendEntry[] } {
  const sweeps = items.filter(({ kind }) => kind === 'sweep');
  const trials = items.filter(({ kind }) => kind === 'trial');
  let y = top;
  const row = (name: string, height: number, draw: (y: number) => string): string => {
    const text = label(name, frame.left - 6, y + height / 2 + 4, { 'text-anchor': 'end', 'font-size': 10 });
    const markup = text + draw(y);
    y += height + gap;
    return markup;
  };
  const inside = (seconds: number) => Math.min(frame.right, Math.max(frame.left, x(seconds)));
  const parts = [
    row('burner', stretchHeight, (at) => stretchRow(stretches, inside, at)),
    ...(sweeps.length > 0 ? [row('sweeps', sweepHeight, (at) => sweepRow(sweeps, inside, at))] : []),
    ...(trials.length > 0 ? [row('trials', trialHeight, (at) => trialRow(trials, inside, at))] : []),
  ];
  return { markup: parts.join(''), height: y - top, entries: legendEntries(stretches, trials) };
}

function stretchRow(stretches: readonly Stretch[], x: (seconds: number) => number, y: number): string {
  const letters: string[] = [];
  const paths = stretchKinds.map((kind) => {
    const { letter, color, pattern } = stretchStyles[kind];
    let path = '';
    for (const stretch of stretches.filter((one) => one.kind === kind)) {
      const [left, right] = [x(stretch.fromS), x(stretch.toS)];
      if (!(right > left)) continue;
      path += stretchPath(pattern, { x: left, y, width: right - left, height: stretchHeight });
      if (right - left < letterWidth) continue;
      const isFilled = pattern === 'filled';
      const middle = (left + right) / 2;
      // The ground keeps the letter clear of the lines of its pattern.
      if (!isFilled)
        letters.push(
          element('rect', { x: middle - 5, y: y + 1.5, width: 10, height: stretchHeight - 3, fill: '#ffffff' }),
        );
      const look = { fill: isFilled ? '#ffffff' : color.light, 'font-weight': 'bold', 'font-size': 10 };
      letters.push(label(letter, middle, y + stretchHeight / 2 + 4, { 'text-anchor': 'middle', ...look }));
    }
    return path && stretchMarkup(stretchStyles[kind], path);
  });
  return paths.join('') + letters.join('');
}

const stretchMarkup = ({ color, pattern }: StretchStyle, d: string): string =>
  element('path', {
    d,
    stroke: color.light,
    'stroke-width': 1,
    fill: pattern === 'filled' ? color.light : 'none',
  });

/** Sweeps as brackets with their numbers; a discarded one is dashed and struck through. */
function sweepRow(sweeps: readonly VisitItem[], x: (seconds: number) => number, y: number): string {
  const middle = y + sweepHeight / 2;
  return sweeps
    .map(({ fromS, toS, number, verdict }) => {
      const [left, right] = [x(fromS), x(toS)];
      const isVoid = verdict === 'discarded';
      const line = element('path', {
        d: `M${Math.round(left)} ${y}v${sweepHeight}M${Math.round(left)} ${middle}H${Math.round(right)}M${Math.round(right)} ${y}v${sweepHeight}`,
        stroke: isVoid ? ink.faint : ink.text,
        'stroke-width': 1.5,
        fill: 'none',
        ...(isVoid && { 'stroke-dasharray': '3 3' }),
      });
      const text = isVoid ? `${number} discarded` : String(number);
      const width = text.length * 5.6 + 6;
      const ground = element('rect', {
        x: (left + right - width) / 2,
        y,
        width,
        height: sweepHeight,
        fill: '#ffffff',
      });
      return (
        line + ground + label(text, (left + right) / 2, middle + 3.5, { 'text-anchor': 'middle', 'font-size': 10 })
      );
    })
    .join('');
}

/** The mark of a trial with its number in the record under it, where there is room. */
function trialRow(trials: readonly VisitItem[], x: (seconds: number) => number, y: number): string {
  let last = -Infinity;
  return trials
    .map(({ fromS, number, verdict }) => {
      // Without a result it has no number either.
      if (verdict === 'not-judged')
        return label('?', x(fromS), y + 10, { 'text-anchor': 'middle', 'font-weight': 'bold' });
      const px = x(fromS);
      const hasRoom = px - last >= numberWidth;
      if (hasRoom) last = px;
      return (
        trialMark(verdict, px, y + 6) +
        (hasRoom ? label(String(number), px, y + 21, { 'text-anchor': 'middle', 'font-size': 10 }) : '')
      );
    })
    .join('');
}

const trialMark = (verdict: VisitItem['verdict'], x: number, y: number): string => {
  const name = verdict === 'lit' ? 'lit' : 'not-lit';
  return seriesMarks(name, seriesOutline(name, x, y, 4.5), name === 'lit' ? 1 : 2.4);
};

/** What the rows show, for the key of the chart. */
function legendEntries(stretches: readonly Stretch[], trials: readonly VisitItem[]): LegendEntry[] {
  const kinds = stretchKinds.filter((kind) => stretches.some((stretch) => stretch.kind === kind));
  return [
    ...kinds.map((kind): LegendEntry => {
      const { pattern, letter, name } = stretchStyles[kind];
      return {
        draw: (x, y) =>
          stretchMarkup(stretchStyles[kind], stretchPath(pattern, { x: x - 10, y: y - 5, width: 20, height: 10 })),
        text: `${letter}: ${name}`,
      };
    }),
    ...(trials.some(({ verdict }) => verdict === 'not-judged')
      ? [
          {
            draw: (x: number, y: number) => label('?', x, y + 4, { 'text-anchor': 'middle', 'font-weight': 'bold' }),
            text: 'trial cut short, not judged',
          },
        ]
      : []),
    ...(['lit', 'not-lit'] as const)
      .filter((verdict) => trials.some((trial) => trial.verdict === verdict))
      .map((verdict) => ({
        draw: (x: number, y: number) => trialMark(verdict, x, y),
        text: `trial ${seriesStyles[verdict].name}`,
      })),
  ];
}
