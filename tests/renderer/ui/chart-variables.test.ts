import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { chartStyleSheet } from '../../../renderer/ui/theme/chart-variables.ts';
import { stretchKinds } from '../../../shared/model/stretches.ts';
import {
  seriesStyle,
  seriesStyles,
  type SeriesName,
  stretchStyles,
} from '../../../shared/report/charts/chart-style.ts';

const renderer = join(import.meta.dirname, '../../../renderer');
const sheets = readdirSync(renderer, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.css'))
  .map((file) => ({ file, text: readFileSync(join(renderer, file), 'utf8') }));
const used = new Set(
  sheets.flatMap(({ text }) => [...text.matchAll(/var\((--chart-[a-z-]+)\)/gu)].map(([, name]) => name!)),
);

/** The variables that the sheet gives in one theme. */
function variables(theme: 'light' | 'dark'): Map<string, string> {
  const block = new RegExp(`data-theme='${theme}'\\] \\{([^}]*)\\}`, 'u').exec(chartStyleSheet())![1]!;
  return new Map([...block.matchAll(/(--[a-z-]+): ([^;]+);/gu)].map(([, name, value]) => [name!, value!]));
}

describe('the chart variables of the page', () => {
  it.each(['light', 'dark'] as const)('are the table that paper uses, in the %s theme', (theme) => {
    const given = variables(theme);
    for (const name of Object.keys(seriesStyles) as SeriesName[]) {
      const { color, dash } = seriesStyle(name);
      expect(given.get(`--chart-${name}`)).toBe(color[theme]);
      expect(given.get(`--chart-${name}-dash`)).toBe(dash && (dash.length > 0 ? dash.join(' ') : 'none'));
    }
    for (const kind of stretchKinds) expect(given.get(`--stretch-${kind}`)).toBe(stretchStyles[kind].color[theme]);
  });

  it('are all there that the style sheets ask for', () => {
    expect(used.size).toBeGreaterThan(20);
    expect([...used].filter((name) => !variables('light').has(name) || !variables('dark').has(name))).toEqual([]);
  });

  it('are the only colors of the charts: plot.css has none of its own', () => {
    const { text } = sheets.find(({ file }) => file.endsWith('plot.css'))!;
    expect(text).not.toMatch(/#[0-9a-f]{3,8}\b|rgb|hsl/u);
  });

  it('follow the dash of a line wherever the table gives one', () => {
    const { text } = sheets.find(({ file }) => file.endsWith('plot.css'))!;
    for (const name of Object.keys(seriesStyles) as SeriesName[]) {
      const { dash } = seriesStyle(name);
      const hasLine = text.includes(`.line-${name}`);
      if (hasLine && dash && dash.length > 0)
        expect(text, name).toContain(`stroke-dasharray: var(--chart-${name}-dash)`);
    }
  });
});
