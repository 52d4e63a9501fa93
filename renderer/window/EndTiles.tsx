import type { AnalysisDetail, AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { guardedNumber, pressureNumber, pressureUnitLabel } from '../../shared/model/format.ts';
import type { SetPointRule } from '../../shared/model/setup.ts';
import { endIntervalLine } from '../../shared/report/end-interval.ts';
import { causeLabels, reasonForNone, reasonForProvisional } from '../../shared/report/labels.ts';

/** The rule in brief; the report has it in full. */
const ruleLabels: Record<SetPointRule, string> = {
  'equal-pressure': 'equal margins in pressure',
  'equal-flow': 'equal margins in gas flow',
  'equal-ratio': 'equal ratios of pressure',
};

/** One end of the window; pressing it shows why it is there. */
export function EndTile({
  analysis,
  side,
  isSelected,
  onSelect,
}: {
  analysis: AnalysisDetail;
  side: 'low' | 'high';
  isSelected: boolean;
  onSelect: () => void;
}) {
  const { result } = analysis;
  const unit = result.pressureUnit;
  const end = result.window[side];
  const name = side === 'low' ? 'Low end' : 'High end';
  if (!end)
    return (
      <div className="end-tile">
        <strong>{name}</strong>
        <span className="figure">–</span>
        <span>There is no window.</span>
      </div>
    );
  const isOpen = end.cause === 'tested-end';
  return (
    <button type="button" className="end-tile" aria-pressed={isSelected} onClick={onSelect}>
      <strong>{isOpen ? `${name}: not reached` : name}</strong>
      <span className="figure">
        {pressureNumber(end.value, unit)} <small>{pressureUnitLabel(unit)}</small>
      </span>
      <span>{causeLabels[end.cause]}</span>
      <span>
        {isOpen ? 'signal still good at the last pressure tested' : endIntervalLine(end, unit, result.confidence)}
      </span>
      <span className="end-tile-why">Why here? How certain?</span>
    </button>
  );
}

/** The set point with its margins, or why there is none. */
export function SetPointTile({ result }: { result: AnalysisResult }) {
  const { setPoint, pressureUnit: unit } = result;
  if (!setPoint)
    return (
      <div className="end-tile">
        <strong>No set point</strong>
        <span>{reasonForNone(result)}</span>
      </div>
    );
  return (
    <div className="end-tile">
      <strong>{setPoint.provisional ? 'Set point, provisional' : 'Set point'}</strong>
      <span className="figure">
        {pressureNumber(setPoint.value, unit)} <small>{pressureUnitLabel(unit)}</small>
      </span>
      <span>
        Margin {guardedNumber(setPoint.marginLow, unit, 'down')} below,{' '}
        {guardedNumber(setPoint.marginHigh, unit, 'down')} above
      </span>
      <span>{ruleLabels[setPoint.rule]}</span>
      {setPoint.provisional && <strong>{reasonForProvisional(result)}</strong>}
      {!setPoint.withinMakerRange && <strong>Outside the maker’s range.</strong>}
    </div>
  );
}
