import type { StretchKind } from '../../model/stretches.ts';
import type { MarkShape } from './chart-marks.ts';
import type { StretchPattern } from './stretch-path.ts';

/** What one series looks like in every chart, on the screen and on paper. */
export interface SeriesStyle {
  /** As keys and legends call it. */
  name: string;
  /** Hexadecimal sRGB. Paper takes the light one. */
  color: { light: string; dark: string };
  mark?: MarkShape;
  /** Whether the mark is filled; an open one is an outline. */
  filled?: boolean;
  /** Lengths of dashes and gaps in pixels where the series is a line; empty: a solid line. */
  dash?: readonly number[];
  /** Shaded, without an outline of its own. */
  area?: true;
  /** An area shaded by lines across it. */
  hatched?: true;
}

/**
 * Colors, marks and dashes of all series, decided once. Screen and report take them from here; the page's CSS variables are
 * made of them (renderer/ui/theme/chart-variables.ts).
 *
 * The colors start from Okabe M., Ito K. (2008), "Color Universal Design" (J*FLY), darkened or lightened until each reaches
 * 3:1 against the ground of its theme (WCAG 2.1, 1.4.11). Ten of the series can meet in one chart, more than hues that every
 * eye can tell apart, so none relies on its color: each of them has a mark or a dash of its own as well.
 */
export const seriesStyles = {
  'turning-in': { name: 'turning in', color: { light: '#0072b2', dark: '#56b4e9' }, mark: 'triangle-right', filled: true, dash: [] },
  'turning-out': { name: 'turning out', color: { light: '#d55e00', dark: '#f28e2b' }, mark: 'triangle-left', filled: false, dash: [9, 5] },
  'at-rest': { name: 'at rest', color: { light: '#6b7b75', dark: '#81938c' }, mark: 'dot', filled: true },
  unlit: { name: 'no flame, or not known', color: { light: '#8f2f00', dark: '#c46a3a' }, mark: 'bar', filled: false },
  curve: { name: 'steady-state curve and interval', color: { light: '#13201d', dark: '#f0f5f2' }, dash: [] },
  window: { name: 'window', color: { light: '#56b4e9', dark: '#56b4e9' }, area: true },
  'low-end': { name: 'low end', color: { light: '#007a80', dark: '#35d0c8' }, mark: 'bracket-left', filled: false, dash: [] },
  'high-end': { name: 'high end', color: { light: '#6a3d9a', dark: '#b79cff' }, mark: 'bracket-right', filled: false, dash: [] },
  'guarded-end': { name: 'guarded end', color: { light: '#3d4b47', dark: '#bccac4' }, dash: [3, 4] },
  'set-point': { name: 'set point', color: { light: '#c2187a', dark: '#ff74c0' }, mark: 'diamond', filled: true, dash: [] },
  'as-left': { name: 'as-left', color: { light: '#7a6a00', dark: '#e6d84a' }, mark: 'square', filled: true, dash: [6, 3] },
  lit: { name: 'lit', color: { light: '#1a7f37', dark: '#4fc46a' }, mark: 'disc', filled: true },
  'not-lit': { name: 'not lit', color: { light: '#b3001b', dark: '#ff5f5f' }, mark: 'cross', filled: false },
  'maker-range': { name: 'maker’s range', color: { light: '#8a5a44', dark: '#c9a183' }, mark: 'range', filled: false, dash: [14, 4, 2, 4] },
  'required-signal': { name: 'required signal', color: { light: '#5b6660', dark: '#a9b8b1' }, dash: [8, 3, 2, 3] },
  earlier: { name: 'earlier sweep', color: { light: '#a8518a', dark: '#cc79a7' }, dash: [11, 6] },
  now: { name: 'now', color: { light: '#13201d', dark: '#f0f5f2' }, mark: 'ring', filled: false },
  pressure: { name: 'pilot pressure', color: { light: '#39566f', dark: '#9db7cf' }, dash: [] },
  signal: { name: 'flame signal', color: { light: '#8a5a00', dark: '#d9b36c' }, dash: [] },
  sweep: { name: 'sweep', color: { light: '#56b4e9', dark: '#56b4e9' }, area: true },
  lighting: { name: 'probability to light and interval', color: { light: '#1a7f37', dark: '#4fc46a' }, dash: [12, 3] },
  proved: { name: 'shown to light', color: { light: '#1a7f37', dark: '#4fc46a' }, area: true },
  'in-doubt': { name: 'tried, in doubt', color: { light: '#8a5a00', dark: '#d9b36c' }, area: true, hatched: true },
  trial: { name: 'light-off trial', color: { light: '#e69f00', dark: '#e69f00' }, area: true },
} as const satisfies Record<string, SeriesStyle>; // prettier-ignore

export type SeriesName = keyof typeof seriesStyles;

/** What a stretch of a visit looks like on its time line: each kind has a pattern and a letter of its own, whatever the eye. */
export interface StretchStyle {
  name: string;
  letter: string;
  /** Of outline and pattern; hexadecimal sRGB. */
  color: { light: string; dark: string };
  pattern: StretchPattern;
}

/** Stretches of the time line of a visit, decided once like the series. Colors reach the same contrasts. */
export const stretchStyles: Record<StretchKind, StretchStyle> = {
  shut: { name: 'gas shut', letter: 'S', color: { light: '#5b6660', dark: '#a9b8b1' }, pattern: 'empty' },
  unlit: { name: 'gas on, no flame', letter: 'G', color: { light: '#8f2f00', dark: '#c46a3a' }, pattern: 'hatched' },
  lit: { name: 'flame', letter: 'F', color: { light: '#186f31', dark: '#4fc46a' }, pattern: 'filled' },
  lost: { name: 'flame lost, gas on', letter: 'L', color: { light: '#b3001b', dark: '#ff5f5f' }, pattern: 'crossed' },
  unknown: { name: 'not known', letter: '?', color: { light: '#5b6660', dark: '#a9b8b1' }, pattern: 'dotted' },
};

/** The same, for code that asks whether a series has a mark, a dash or an area. */
export const seriesStyle = (name: SeriesName): SeriesStyle => seriesStyles[name];
