import { useId, type ReactNode } from 'react';
import { pressureNumber, signalNumber } from '../../shared/model/format.ts';
import type { PressureUnit, SignalUnit } from '../../shared/model/units.ts';
import type { Limits } from '../state/current-capture.ts';
import { useScales } from './scales.ts';

/** What the maker asks for: hatched where the pilot pressure must not be, a line below which the signal is too small. */
export function LimitMarks({
  limits,
  pressureUnit,
  signalUnit,
}: {
  limits: Pick<Limits, 'makerRange' | 'minimumSignal'>;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
}) {
  const hatch = useId();
  const scales = useScales();
  if (!scales) return null;
  const { x, y, area } = scales;
  const { makerRange, minimumSignal } = limits;
  const right = area.x + area.width;
  const bottom = area.y + area.height;
  // Outside the range, where no data should be; inside it when there is no room.
  const beside = (px: number, isHigh: boolean) => {
    if (isHigh) return px + labelRoom < right ? px + labelRoom - 6 : px - 8;
    return px - labelRoom > area.x ? px - 8 : px + labelRoom - 6;
  };
  const inside = (px: number) => Math.min(right, Math.max(area.x, px));
  return (
    <g>
      {makerRange && (
        <>
          <defs>
            <pattern id={hatch} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path className="mark mark-hatch" d="M0 0v9" />
            </pattern>
          </defs>
          {(
            [
              [area.x, inside(x(makerRange.low))],
              [inside(x(makerRange.high)), right],
            ] as const
          ).map(([from, to], side) => (
            <rect key={side} x={from} y={area.y} width={to - from} height={area.height} fill={`url(#${hatch})`} />
          ))}
          {[makerRange.low, makerRange.high]
            .filter((value) => x(value) <= right + 1)
            .map((value, side) => (
              <g key={side}>
                <path className="mark mark-limit" d={`M${x(value)} ${area.y}V${bottom}`} />
                <UprightLabel x={beside(x(value), side === 1)} y={area.y + area.height / 2}>
                  {side ? 'highest' : 'lowest'} {pressureNumber(value, pressureUnit)}
                </UprightLabel>
              </g>
            ))}
        </>
      )}
      {minimumSignal !== undefined && y(minimumSignal) >= area.y && (
        <>
          <path className="mark mark-limit" d={`M${area.x} ${y(minimumSignal)}H${right}`} />
          <text className="plot-label" x={right - 6} y={y(minimumSignal) - 7} textAnchor="end">
            least {signalNumber(minimumSignal, signalUnit)}
          </text>
        </>
      )}
    </g>
  );
}

/** Width that an upright label takes, pixels. */
const labelRoom = 20;

function UprightLabel({ x, y, children }: { x: number; y: number; children: ReactNode }) {
  return (
    <text className="plot-label" transform={`translate(${x} ${y}) rotate(-90)`} textAnchor="middle">
      {children}
    </text>
  );
}
