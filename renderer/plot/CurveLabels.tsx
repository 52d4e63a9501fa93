import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { pressureNumber, signalNumber } from '../../shared/model/format.ts';
import { endLabels, freeLabel, rowHeight } from './geometry/end-labels.ts';
import { PlotLabel } from './PlotLabel.tsx';
import { useScales } from './scales.ts';

/** What the key need not explain: the ends of the window and the required signal, named where they are. */
export function CurveLabels({ result }: { result: AnalysisResult }) {
  const scales = useScales();
  if (!scales) return null;
  const { x, y, area } = scales;
  const { requiredSignal, signalUnit, pressureUnit } = result;
  const required = y(requiredSignal.value);
  // Inside the window, beside the set point and away from the as-left pressure.
  const setPoint = result.setPoint?.value;
  const isLeftOfSetPoint = setPoint !== undefined && (result.asLeft?.value ?? setPoint) > setPoint;
  const beside = setPoint === undefined ? area.x + area.width / 2 : x(setPoint) + (isLeftOfSetPoint ? -8 : 8);
  const textOf = (side: 'low' | 'high') => {
    const end = result.window[side];
    return end && `${side} end ${end.cause === 'tested-end' ? 'not reached' : pressureNumber(end.value, pressureUnit)}`;
  };
  const texts = { low: textOf('low'), high: textOf('high') };
  const { low, high } = result.window;
  const labels = endLabels(
    {
      ...(low && texts.low && { low: { at: x(low.value), text: texts.low } }),
      ...(high && texts.high && { high: { at: x(high.value), text: texts.high } }),
    },
    [area.x, area.x + area.width],
  );
  const requiredText = `required ${signalNumber(requiredSignal.value, signalUnit)}`;
  const place = freeLabel(
    { x: beside, anchor: isLeftOfSetPoint ? 'end' : 'start', y: required + 17 - area.y, text: requiredText },
    (['low', 'high'] as const).flatMap((side) => {
      const [label, text] = [labels[side], texts[side]];
      return label && text ? [{ label, text }] : [];
    }),
    [area.x, area.x + area.width],
  );
  return (
    <g>
      {required >= area.y && (
        <PlotLabel x={place.x} y={area.y + place.y} anchor={place.anchor}>
          {requiredText}
        </PlotLabel>
      )}
      {(['low', 'high'] as const).map((side) => {
        const label = labels[side];
        return (
          label && (
            <PlotLabel key={side} x={label.x} y={area.y + 18 + rowHeight * label.row} anchor={label.anchor}>
              {texts[side]}
            </PlotLabel>
          )
        );
      })}
    </g>
  );
}
