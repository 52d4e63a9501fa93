import { useId } from 'react';
import { pressureNumber, signalNumber } from '../../shared/model/format.ts';
import type { PressureUnit, SignalUnit } from '../../shared/model/units.ts';
import type { Limits } from '../state/limits.ts';
import { PlotLabel, UprightLabel } from './PlotLabel.tsx';
import { useScales } from './scales.ts';

/** Width that an upright label takes, pixels. */
const labelWidth = 20;
/** The bar of the maker's range above the pressure axis, pixels. */
const barAbove = 6;

/** The maker's limits: pressures outside the range are hatched, a line marks the minimum flame signal. */
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
  const besideLine = (px: number, isHigh: boolean) => {
    if (isHigh) return px + labelWidth < right ? px + labelWidth - 6 : px - 8;
    return px - labelWidth > area.x ? px - 8 : px + labelWidth - 6;
  };
  const inside = (value: number) => Math.min(right, Math.max(area.x, x(value)));
  return (
    <g>
      {makerRange && (
        <>
          <defs>
            <pattern id={hatch} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path className="mark hatch-maker-range" d="M0 0v9" />
            </pattern>
          </defs>
          {(
            [
              [area.x, inside(makerRange.low)],
              [inside(makerRange.high), right],
            ] as const
          ).map(([from, to], side) => (
            <rect key={side} x={from} y={area.y} width={to - from} height={area.height} fill={`url(#${hatch})`} />
          ))}
          <path
            className="mark mark-maker-range"
            d={`M${inside(makerRange.low)} ${bottom - barAbove - 5}v10m0 -5H${inside(makerRange.high)}m0 -5v10`}
          />
          {[makerRange.low, makerRange.high]
            .filter((value) => x(value) <= right + 1)
            .map((value, side) => (
              <g key={side}>
                <path className="mark line-maker-range" d={`M${x(value)} ${area.y}V${bottom}`} />
                <UprightLabel x={besideLine(x(value), side === 1)} y={area.y + area.height / 2}>
                  maker’s {side ? 'max' : 'min'} {pressureNumber(value, pressureUnit)}
                </UprightLabel>
              </g>
            ))}
        </>
      )}
      {minimumSignal !== undefined && y(minimumSignal) >= area.y && (
        <>
          <path className="mark line-maker-range" d={`M${area.x} ${y(minimumSignal)}H${right}`} />
          <PlotLabel x={area.x + area.width / 2} y={y(minimumSignal) - 7} anchor="middle">
            maker’s min {signalNumber(minimumSignal, signalUnit)}
          </PlotLabel>
        </>
      )}
    </g>
  );
}
