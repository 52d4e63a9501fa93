import { stretchKinds } from '../../../shared/model/stretches.ts';
import {
  seriesStyle,
  seriesStyles,
  type SeriesName,
  stretchStyles,
} from '../../../shared/report/charts/chart-style.ts';

const names = Object.keys(seriesStyles) as SeriesName[];

/**
 * Declarations for one theme: `--chart-NAME` is the color of a series, `--chart-NAME-dash` the dash of its line, `--stretch-KIND` the color
 * of a kind of stretch.
 */
const declarations = (theme: 'light' | 'dark'): string =>
  names
    .flatMap((name) => {
      const { color, dash } = seriesStyle(name);
      const line = dash && `--chart-${name}-dash: ${dash.length > 0 ? dash.join(' ') : 'none'};`;
      return [`--chart-${name}: ${color[theme]};`, ...(line ? [line] : [])];
    })
    .concat(stretchKinds.map((kind) => `--stretch-${kind}: ${stretchStyles[kind].color[theme]};`))
    .join(' ');

/** The style sheet that gives the page the colors and dashes of the charts, in both themes. */
export const chartStyleSheet = (): string =>
  `:root, :root[data-theme='light'] { ${declarations('light')} }\n:root[data-theme='dark'] { ${declarations('dark')} }`;

/** Adds that sheet to the page. A constructed one, since the content security policy admits no style in the markup. */
export function adoptChartStyle(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(chartStyleSheet());
  document.adoptedStyleSheets.push(sheet);
}
