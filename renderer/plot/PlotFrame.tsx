import type { ReactNode } from 'react';
import { CartesianGrid, ComposedChart, ResponsiveContainer, XAxis, YAxis } from 'recharts';
import type { Ticks } from './domain.ts';
import './plot.css';

export interface Axis extends Ticks {
  /** Name with unit; empty where the picture's own heading says it. */
  label: string;
}

/** Recharts wants data for its axes; the domains are ours, so one point that never changes will do. */
const oneRow = [{ x: 0, y: 0 }];
/** Recharts writes colours into the elements' own style, where our sheet does not reach. */
const ink = { fill: 'var(--ink-soft)' };

/**
 * A picture with two number axes; what is in it are its children, each of which draws its points as one path.
 * `says` is what a person hears who cannot see it.
 */
export function PlotFrame({ x, y, says, children }: { x: Axis; y: Axis; says: string; children: ReactNode }) {
  return (
    <figure className="plot">
      <figcaption className="heard">{says}</figcaption>
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
            tick={ink}
            domain={x.domain}
            ticks={x.ticks}
            tickFormatter={x.format}
            interval="preserveStartEnd"
            allowDataOverflow
            label={x.label ? { value: x.label, position: 'bottom', offset: 4, style: ink } : undefined}
          />
          <YAxis
            dataKey="y"
            type="number"
            tick={ink}
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
                    style: { ...ink, textAnchor: 'middle' },
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
