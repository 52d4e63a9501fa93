import type { Frame } from './axes.ts';

/** Width of the chart of a sweep, and where its plot lies in it; pixels. */
export const width = 720;
export const frame: Frame = { left: 62, right: 706, top: 62, bottom: 330 };
