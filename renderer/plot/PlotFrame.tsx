import type { ReactNode } from 'react';
import { CartesianGrid, ComposedChart, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { Ticks } from './geometry/axis.ts';
import './plot.css';

export interface Axis extends Ticks {
  /** Name with unit; empty where a heading above the plot says it. */
  label: string;
}

/** Recharts needs data for its axes; the domains are given, so one constant point will do. */
const oneRow = [{ x: 0, y: 0 }];
/** Recharts writes text colors into style attributes, which style sheets do not override. */
const textStyle = { fill: 'var(--ink-soft)' };

/**
 * A plot with two number axes; its children draw into it, each series as one path.
 * `description` stands for the plot for people who cannot see it.
 */
export function PlotFrame({
  x,
  y,
  description,
  children,
}: {
  x: Axis;
  y: Axis;
  description: string;
  children: ReactNode;
}) {
  return (
    <figure className="plot">
      <figcaption className="visually-hidden">{description}</figcaption>
      <ResponsiveContainer width="100%" height="100%" initialDimension={{ width: 300, height: 150 }}>
        <ComposedChart
          data={oneRow}
          margin={{ top: 10, right: 18, bottom: x.label ? 22 : 2, left: 4 }}
          accessibilityLayer={false}
        >
          <CartesianGrid />
          <XAxis
            dataKey="x"
            type="number"
            tick={textStyle}
            domain={x.domain}
            ticks={x.ticks}
            tickFormatter={x.format}
            interval="preserveStartEnd"
            // Without words below it the axis needs no room for them.
            height={x.ticks.some((tick) => x.format(tick) !== '') ? 30 : 6}
            allowDataOverflow
            label={x.label ? { value: x.label, position: 'bottom', offset: 4, style: textStyle } : undefined}
          />
          <YAxis
            dataKey="y"
            type="number"
            tick={textStyle}
            domain={y.domain}
            ticks={y.ticks}
            tickFormatter={y.format}
            interval="preserveStartEnd"
            width={y.label ? 64 : 48}
            allowDataOverflow
            label={
              y.label
                ? {
                    value: y.label,
                    angle: -90,
                    position: 'insideLeft',
                    offset: 12,
                    style: { ...textStyle, textAnchor: 'middle' },
                  }
                : undefined
            }
          />
          {children}
        </ComposedChart>
      </ResponsiveContainer>
    </figure>
  );
}
