import { useState } from 'react';
import { isUnanswered } from '../../shared/model/faults.ts';
import { formatPressure, pressureUnitLabel, pressureNumber } from '../../shared/model/format.ts';
import { isSweeping } from '../../shared/model/sweeps.ts';
import { convertPressure } from '../../shared/model/units.ts';
import { isLightOffUnclear } from '../../shared/report/labels.ts';
import { readNumber } from '../state/setup/read-number.ts';
import { displayUnits, useCapture } from '../state/current-capture.ts';
import { limitsNow } from '../state/limits.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { BurnerLine } from '../ui/visit/BurnerLine.tsx';
import { useMeters } from '../state/live/meters.ts';
import { useCurrentSetup } from '../state/setup/current-setup.ts';
import { isBelowMinimum } from '../ui/visit/live-words.ts';
import { PressurePanel, SignalPanel } from '../ui/visit/LivePanels.tsx';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Caution, Notice } from '../ui/Notice.tsx';
import { useAnalysis } from '../state/analysis.ts';
import { Working } from '../ui/Working.tsx';
import { AdjustmentGuide } from './AdjustmentGuide.tsx';
import { AsLeft } from './AsLeft.tsx';
import { settingAdvice, type Withheld, withheldSetPoint } from './setting-advice.ts';
import './set.css';

/** Step 6: turn the regulator to the set point, and record the as-left pressure. */
export function SetPlace() {
  const capture = useCapture();
  const meters = useMeters();
  const setup = useCurrentSetup();
  const { analysis: calculated, fault, busy, rerun, cancel } = useAnalysis(capture);
  const [typed, setTyped] = useState<string>();
  const withheld = withheldSetPoint({
    isSweeping: capture?.status === 'recording' && isSweeping(capture.marks),
    isCalculating: busy,
    isUnclear: calculated !== undefined && isLightOffUnclear(calculated.result),
  });
  // A result that does not rest on all that is on record sets no target and decides nothing.
  const analysis = withheld === 'sweeping' || withheld === 'calculating' ? undefined : calculated;
  const advice = settingAdvice(useBurnerState(), capture?.status, {
    isSignalBlank: meters.signal?.stale === true,
    withheld: typed === undefined ? withheld : undefined,
  });
  const units = displayUnits(capture, meters);
  const limits = limitsNow(capture, setup, units.pressure, units.signal);
  const setPoint = withheld ? undefined : analysis?.result.setPoint;
  const proposed =
    setPoint && analysis && convertPressure(setPoint.value, analysis.result.pressureUnit, units.pressure);
  const target = typed === undefined ? proposed : readNumber(typed);
  const isTarget = target !== undefined && !Number.isNaN(target);
  const present =
    meters.pressure && !meters.pressure.stale && !Number.isNaN(meters.pressure.value)
      ? convertPressure(meters.pressure.value, meters.pressure.unit, units.pressure)
      : undefined;

  return (
    <>
      <h1>Set</h1>
      <Caution>
        Turn only the pilot regulator, with the pilot held by the control’s own test switch. A setting outside the
        maker’s range needs the maker’s approval.
      </Caution>
      {busy && <Working name="Calculating the set point" onCancel={cancel} />}
      {!busy && fault && (
        <Notice tone="warning" text={`The set point is not known. ${fault.message}`}>
          {isUnanswered(fault) && (
            <div className="row">
              <Button onClick={() => void rerun()}>Recalculate</Button>
            </div>
          )}
        </Notice>
      )}
      <div className="set-place">
        <div className="stack">
          {!advice.mayTurn && advice.why && <Notice tone="warning" text={advice.why} />}
          {advice.mayTurn && isTarget && present !== undefined && (
            <AdjustmentGuide present={present} target={target} unit={units.pressure} analysis={analysis} />
          )}
          {present === undefined && capture?.status !== 'complete' && (
            <Notice tone="warning" text="There is no live pilot pressure. Check the manometer." />
          )}
          <AsLeft
            capture={capture}
            analysis={analysis}
            present={present}
            target={isTarget ? target : undefined}
            unit={units.pressure}
            withheld={withheld}
          />
        </div>
        <div className="stack">
          {capture?.status !== 'complete' && (
            <>
              <BurnerLine isBelowMinimum={isBelowMinimum(meters.signal, units.signal, limits.minimumSignal)} />
              <PressurePanel latest={meters.pressure} unit={units.pressure} limits={limits} />
              <SignalPanel latest={meters.signal} unit={units.signal} limits={limits} />
            </>
          )}
          <Panel name="Set point">
            <FieldFrame
              name="Target pressure"
              help={
                proposed === undefined
                  ? noSetPointWords[withheld ?? 'none']
                  : `Calculated set point: ${formatPressure(proposed, units.pressure)}${setPoint?.provisional ? ', provisional' : ''}`
              }
              problem={typed !== undefined && target !== undefined && !isTarget ? 'This is not a number.' : undefined}
            >
              {({ input, describedBy }) => (
                <>
                  <input
                    id={input}
                    inputMode="decimal"
                    aria-describedby={describedBy}
                    value={typed ?? (proposed === undefined ? '' : pressureNumber(proposed, units.pressure))}
                    onChange={(event) => setTyped(event.target.value)}
                  />
                  <span className="unit-fixed">{pressureUnitLabel(units.pressure)}</span>
                </>
              )}
            </FieldFrame>
          </Panel>
        </div>
      </div>
    </>
  );
}

/** What stands below the target where no set point is proposed. */
const noSetPointWords: Record<Withheld | 'none', string> = {
  sweeping: 'The sweep is still being recorded',
  calculating: 'Calculating…',
  unclear: 'No set point: light-off trials contradict each other',
  none: 'No set point calculated; enter a target',
};
