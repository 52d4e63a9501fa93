import type { AnalysisResult } from '../../shared/model/analysis-result.ts';
import { pressureNumber, signalNumber } from '../../shared/model/format.ts';
import { PlotLabel } from './PlotLabel.tsx';
import { useScales } from './scales.ts';

/** Width that the name of an end takes with its number, pixels. */
const endLabelWidth = 120;

/** What the key need not explain: the ends of the window and the required signal, named where they are. */
export function CurveLabels({ result }: { result: AnalysisResult }) {
  const scales = useScales();
  if (!scales) return null;
  const { x, y, area } = scales;
  const right = area.x + area.width;
  const { requiredSignal, signalUnit, pressureUnit } = result;
  const required = y(requiredSignal.value);
  // Inside the window, beside the set point and away from the as-left pressure.
  const setPoint = result.setPoint?.value;
  const isLeftOfSetPoint = setPoint !== undefined && (result.asLeft?.value ?? setPoint) > setPoint;
  const beside = setPoint === undefined ? area.x + area.width / 2 : x(setPoint) + (isLeftOfSetPoint ? -8 : 8);
  return (
    <g>
      {required >= area.y && (
        <PlotLabel x={beside} y={required + 17} anchor={isLeftOfSetPoint ? 'end' : 'start'}>
          required {signalNumber(requiredSignal.value, signalUnit)}
        </PlotLabel>
      )}
      {(['low', 'high'] as const).map((side) => {
        const end = result.window[side];
        if (!end) return null;
        const at = x(end.value);
        // Outside the window, unless the plot ends there.
        const isOutside = side === 'low' ? at - endLabelWidth > area.x : at + endLabelWidth < right;
        const isLeft = (side === 'low') === isOutside;
        return (
          <PlotLabel key={side} x={isLeft ? at - 6 : at + 6} y={area.y + 18} anchor={isLeft ? 'end' : 'start'}>
            {side} end {end.cause === 'tested-end' ? 'not reached' : pressureNumber(end.value, pressureUnit)}
          </PlotLabel>
        );
      })}
    </g>
  );
}
