import { useState } from 'react';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { formatPressure, pressureNumber, pressureUnitLabel } from '../../shared/model/format.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { useCaptureNow } from '../state/live/capture-now.ts';
import { useRecording } from '../state/live/recording.ts';
import '../plot/plot.css';
import { Announce } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';
import { adjustmentTo, guardedWindow, isSteady, type Turn } from './adjustment.ts';

const turnWords: Record<Turn, { action: string; detail: string }> = {
  in: { action: 'Turn in', detail: 'clockwise' },
  out: { action: 'Turn out', detail: 'counterclockwise' },
  stay: { action: 'On target', detail: 'leave it there' },
};

/** How far off the pressure is, and which way to turn, in type that can be read at the regulator. */
export function AdjustmentGuide({
  present,
  target,
  unit,
  analysis,
}: {
  present: number;
  target: number;
  unit: PressureUnit;
  analysis: AnalysisDetail | undefined;
}) {
  const recording = useRecording();
  const now = useCaptureNow();
  const [said, setSaid] = useState<Turn>();
  const adjustment = adjustmentTo(present, target, unit, said);
  if (adjustment.turn !== said) setSaid(adjustment.turn);
  const { action, detail } = turnWords[adjustment.turn];
  const steady =
    recording && now !== undefined && isSteady(recording.buffer.column('pilot_pressure'), now, adjustment.tolerance);
  return (
    <div className="adjustment" data-turn={adjustment.turn}>
      <div className="adjustment-row">
        <div className="adjustment-step">
          <Shape
            name={adjustment.turn === 'stay' ? 'check' : adjustment.turn === 'in' ? 'turn-in' : 'turn-out'}
            size={88}
          />
          <span>
            {action}
            <small>{detail}</small>
          </span>
        </div>
        <div className="adjustment-step">
          <span className="figure">
            {pressureNumber(adjustment.turn === 'stay' ? present : Math.abs(adjustment.difference), unit)}
          </span>
          <span>
            <small>{pressureUnitLabel(unit)}</small>
            <small>{adjustment.turn === 'stay' ? 'now' : adjustment.difference < 0 ? 'too low' : 'too high'}</small>
          </span>
        </div>
      </div>
      <AdjustmentScale present={present} target={target} unit={unit} analysis={analysis} />
      {steady !== undefined && (
        <StatusWord tone={steady ? 'good' : 'plain'}>{steady ? 'Steady for 5 s' : 'Not steady yet'}</StatusWord>
      )}
      <Announce text={`${action}, ${detail}`} />
    </div>
  );
}

/** The target as a line and the present pressure as a pointer, in the window where there is one. */
function AdjustmentScale({ present, target, unit, analysis }: Parameters<typeof AdjustmentGuide>[0]) {
  const window = guardedWindow(analysis, unit);
  const isOpen = window !== undefined && window[0] < window[1];
  const [low, high] = isOpen ? window : [target * 0.5, target * 1.5];
  const padding = Math.max((high - low) * 0.15, Math.abs(target) * 0.05);
  const at = (value: number) =>
    Math.min(100, Math.max(0, (100 * (value - low + padding)) / (high - low + 2 * padding)));
  return (
    <figure className="adjustment-scale">
      <figcaption className="visually-hidden">{`Present ${formatPressure(present, unit)}, target ${formatPressure(target, unit)}`}</figcaption>
      <svg viewBox="0 0 100 20" preserveAspectRatio="none">
        {isOpen && (
          <>
            <rect className="mark area-window" x={at(low)} width={at(high) - at(low)} y="0" height="20" />
            <path
              className="mark line-guarded-end"
              vectorEffect="non-scaling-stroke"
              d={`M${at(low)} 0V20M${at(high)} 0V20`}
            />
          </>
        )}
        <path className="mark line-set-point" vectorEffect="non-scaling-stroke" d={`M${at(target)} 0V20`} />
        <path fill="currentColor" d={`M${at(present)} 4l1.6 12h-3.2z`} />
      </svg>
    </figure>
  );
}
