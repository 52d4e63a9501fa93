import type { ReactNode } from 'react';

/** A word in the chart itself, readable over whatever is drawn beneath it. Pixels. */
export function PlotLabel({
  x,
  y,
  anchor,
  children,
}: {
  x: number;
  y: number;
  anchor: 'start' | 'middle' | 'end';
  children: ReactNode;
}) {
  return (
    <text className="plot-label" x={x} y={y} textAnchor={anchor}>
      {children}
    </text>
  );
}

/** The same, reading upwards. */
export function UprightLabel({ x, y, children }: { x: number; y: number; children: ReactNode }) {
  return (
    <text className="plot-label" transform={`translate(${x} ${y}) rotate(-90)`} textAnchor="middle">
      {children}
    </text>
  );
}
