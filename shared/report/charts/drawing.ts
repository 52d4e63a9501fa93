import { element } from './svg.ts';

export interface Chart {
  svg: string;
  width: number;
  height: number;
}

/** The outermost element, with a white background so that it prints the same on any page. */
export const drawing = (w: number, h: number, body: string): string =>
  element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', viewBox: `0 0 ${w} ${h}`, width: w, height: h },
    element('rect', { x: 0, y: 0, width: w, height: h, fill: '#ffffff' }) + body,
  );
