import type { SymbolName } from './geometry/paths.ts';

/**
 * What each series looks like: a class for colour and dash (plot.css), a symbol or a line, and its name.
 * Decided here once, for the drawings and for their keys.
 */
export const series = {
  in: { name: 'turning in', symbol: 'point-right' },
  out: { name: 'turning out', symbol: 'point-left' },
  rest: { name: 'at rest', symbol: 'dot' },
  curve: { name: 'steady curve with interval', line: true },
  window: { name: 'window', area: true },
  guard: { name: 'guarded end', line: true },
  'set-point': { name: 'set point', symbol: 'diamond' },
  'as-left': { name: 'as-left', symbol: 'ring' },
  lit: { name: 'lit', symbol: 'disc' },
  'not-lit': { name: 'did not light', symbol: 'cross' },
  earlier: { name: 'earlier', line: true },
  pressure: { name: 'pressure', line: true },
  signal: { name: 'flame signal', line: true },
  limit: { name: 'maker’s limit', line: true },
  now: { name: 'now', symbol: 'ring' },
} as const satisfies Record<string, { name: string; symbol?: SymbolName; line?: true; area?: true }>;

export type SeriesName = keyof typeof series;
