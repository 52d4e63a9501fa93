import { useCallback, useMemo, useState } from 'react';
import { formatPressure, formatSignal, pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, convertSignal } from '../../shared/model/units.ts';
import { type VisitItem, visitItems } from '../../shared/report/charts/visit-items.ts';
import type { TimeView } from '../plot/geometry/time-view.ts';
import { PlotKey } from '../plot/PlotKey.tsx';
import { StripPlot } from '../plot/StripPlot.tsx';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import { SweepPlot } from '../plot/SweepPlot.tsx';
import { BandKey } from '../plot/Stretches.tsx';
import { isSameItem, VisitBand } from '../plot/VisitBand.tsx';
import { displayUnits, useCapture } from '../state/current-capture.ts';
import { limitsNow, limitsOf } from '../state/limits.ts';
import { useMeters } from '../state/live/meters.ts';
import { useRecording } from '../state/live/recording.ts';
import { useWholeSpan } from './use-whole-span.ts';
import { useStretches } from '../state/live/stretches.ts';
import { useCurrentSetup } from '../state/setup/current-setup.ts';
import { Caution } from '../ui/Notice.tsx';
import { BurnerLine } from '../ui/visit/BurnerLine.tsx';
import { isBelowMinimum } from '../ui/visit/live-words.ts';
import { PressurePanel, SignalPanel } from '../ui/visit/LivePanels.tsx';
import { ItemDialog } from './ItemDialog.tsx';
import { RecordPanel } from './RecordPanel.tsx';
import { SpanValues } from './SpanValues.tsx';
import { SpanControls, ZoomControls } from './ViewControls.tsx';
import './sweep.css';

/** Step 3: the sweep, live. The readings, the plots and the controls fit one view. */
export function SweepPlace() {
  const meters = useMeters();
  const capture = useCapture();
  const recording = useRecording();
  const setup = useCurrentSetup();
  const [view, setView] = useState<TimeView>({ spanS: 60, endS: undefined });
  const [selected, setSelected] = useState<TimeSpan>();
  const units = displayUnits(capture, meters);
  const limits = useMemo(() => limitsOf(setup, units.pressure, units.signal), [setup, units.pressure, units.signal]);
  const judgedBy = limitsNow(capture, setup, units.pressure, units.signal);
  const isLive = capture?.status === 'recording';
  const wholeS = useWholeSpan(capture);
  const spanS = view.spanS ?? wholeS;
  const stretches = useStretches(capture);
  const items = useMemo(() => (capture ? visitItems(capture) : []), [capture]);
  const [picked, setPicked] = useState<VisitItem>();
  const changeView = (to: TimeView) => {
    setView(to);
    // Where the plots move on, nothing stays selected.
    if (to.endS === undefined) setSelected(undefined);
  };
  const select = useCallback(
    (span: TimeSpan, endS: number) => {
      setSelected(span);
      setView({ spanS, endS });
    },
    [spanS],
  );
  const pressureText = useCallback((value: number) => formatPressure(value, units.pressure), [units.pressure]);
  const signalText = useCallback((value: number) => formatSignal(value, units.signal), [units.signal]);
  const recordedS = () => recording?.buffer.endS ?? 0;
  const stripProps = { recording, spanS, endS: view.endS, isLive, stretches, selected, onSelect: select };

  return (
    <div className="sweep fills">
      <h1 className="visually-hidden">Sweep</h1>
      <div className="sweep-caution">
        <Caution>
          Hold the pilot only with the control’s own test switch, never with jumpers. Gas and high voltage. The maker’s
          manual, the code in force and a licensed person decide.
        </Caution>
      </div>
      <div className="sweep-left">
        <BurnerLine isBelowMinimum={isBelowMinimum(meters.signal, units.signal, judgedBy.minimumSignal)} />
        <PressurePanel latest={meters.pressure} unit={units.pressure} limits={judgedBy} />
        <SignalPanel latest={meters.signal} unit={units.signal} limits={judgedBy} />
        <RecordPanel capture={capture} hasMeters={(meters.meters?.length ?? 0) > 0} />
      </div>
      <section className="sweep-plots" aria-label="Recorded data">
        <PlotKey of={isLive ? [...recorded, 'now'] : recorded} lines={['turning-in', 'turning-out']} />
        <SweepPlot
          recording={recording}
          isLive={isLive && meters.pressure?.stale === false && meters.signal?.stale === false}
          marks={capture?.marks ?? noMarks}
          stretches={stretches}
          limits={limits}
          pressureUnit={units.pressure}
          signalUnit={units.signal}
        />
        <div className="sweep-bar">
          <strong>Pressure, {pressureUnitLabel(units.pressure)}</strong>
          <SpanControls view={view} wholeS={recordedS} isLive={isLive} onView={changeView} onSelect={select} />
        </div>
        <StripPlot
          {...stripProps}
          channel="pilot_pressure"
          label="Pilot pressure"
          valueText={pressureText}
          minimumTop={convertPressure(1, 'inH2O', units.pressure)}
          showsTime={false}
        />
        <div className="sweep-bar">
          <strong>Signal, {signalUnitLabel(units.signal)}</strong>
          <span>line: flame; dots: none, or not known</span>
          <ZoomControls view={view} wholeS={recordedS} selected={selected} onView={changeView} />
        </div>
        <StripPlot
          {...stripProps}
          channel="flame_signal"
          label="Flame signal"
          valueText={signalText}
          minimumTop={limits.minimumSignal ?? convertSignal(1, 'V', units.signal) ?? 1}
          showsTime
        />
        <BandKey stretches={stretches} />
        <VisitBand
          recording={recording}
          isLive={isLive}
          spanS={spanS}
          endS={view.endS}
          stretches={stretches}
          items={items}
          selected={picked}
          onSelect={setPicked}
        />
        {recording && selected && (
          <SpanValues recording={recording} selected={selected} units={units} onClear={() => setSelected(undefined)} />
        )}
      </section>
      {capture && picked && (
        <ItemDialog
          capture={capture}
          item={items.find((item) => isSameItem(item, picked)) ?? picked}
          recording={recording}
          unit={units.pressure}
          onClose={() => setPicked(undefined)}
        />
      )}
    </div>
  );
}

/** Series of a recording, whether or not it is still going on. */
const recorded = ['turning-in', 'turning-out', 'at-rest', 'unlit'] as const;

const noMarks = [] as const;
