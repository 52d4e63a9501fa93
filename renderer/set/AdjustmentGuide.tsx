import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import { formatPressure, pressureNumber, pressureUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { useCaptureNow } from '../state/live/capture-now.ts';
import { useRecording } from '../state/live/recording.ts';
import '../plot/plot.css';
import { Announce } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';
import { adjustmentTo, isSteady, type Turn } from './adjustment.ts';

const turnWords: Record<Turn, { call: string; more: string }> = {
  in: { call: 'Turn in', more: 'clockwise' },
  out: { call: 'Turn out', more: 'anticlockwise' },
  stay: { call: 'There', more: 'leave it' },
};

/** How far off, and which way to turn: to be read from the regulator. */
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
  const aim = adjustmentTo(present, target, unit);
  const { call, more } = turnWords[aim.turn];
  const steady = recording && now !== undefined && isSteady(recording.buffer.column('pilot_pressure'), now, aim.near);
  return (
    <div className="aim-call" data-turn={aim.turn}>
      <div className="aim-both">
        <div className="aim-turn">
          <Shape name={aim.turn === 'stay' ? 'check' : aim.turn === 'in' ? 'turn-in' : 'turn-out'} size={88} />
          <span>
            {call}
            <small>{more}</small>
          </span>
        </div>
        <div className="aim-turn">
          <span className="figure">{pressureNumber(aim.turn === 'stay' ? present : Math.abs(aim.off), unit)}</span>
          <span>
            <small>{pressureUnitLabel(unit)}</small>
            <small>{aim.turn === 'stay' ? 'now' : aim.off < 0 ? 'too low' : 'too high'}</small>
          </span>
        </div>
      </div>
      <AimScale present={present} target={target} unit={unit} analysis={analysis} />
      {steady !== undefined && (
        <StatusWord tone={steady ? 'good' : 'plain'}>{steady ? 'Steady for 5 s' : 'Not steady yet'}</StatusWord>
      )}
      <Announce text={`${call}, ${more}`} />
    </div>
  );
}

/** The window from end to end, the target as a notch and the present pressure as a pointer. */
function AimScale({ present, target, unit, analysis }: Parameters<typeof AdjustmentGuide>[0]) {
  const window = analysis?.result.window;
  const inUnit = (value: number) => convertPressure(value, analysis!.result.pressureUnit, unit);
  const low = window?.low ? inUnit(window.low.guarded) : target * 0.5;
  const high = window?.high ? inUnit(window.high.guarded) : target * 1.5;
  const room = Math.max((high - low) * 0.15, Math.abs(target) * 0.05);
  const at = (value: number) => Math.min(100, Math.max(0, (100 * (value - low + room)) / (high - low + 2 * room)));
  return (
    <figure className="aim-scale">
      <figcaption className="heard">{`Present ${formatPressure(present, unit)}, target ${formatPressure(target, unit)}`}</figcaption>
      <svg viewBox="0 0 100 20" preserveAspectRatio="none">
        <rect className="mark area-window" x={at(low)} width={at(high) - at(low)} y="0" height="20" />
        <path
          className="mark line-guarded-end"
          vectorEffect="non-scaling-stroke"
          d={`M${at(low)} 0V20M${at(high)} 0V20`}
        />
        <path className="mark line-set-point" vectorEffect="non-scaling-stroke" d={`M${at(target)} 0V20`} />
        <path fill="currentColor" d={`M${at(present)} 4l1.6 12h-3.2z`} />
      </svg>
    </figure>
  );
}
