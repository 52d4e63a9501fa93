import { pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../../../shared/model/format.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../../shared/model/units.ts';
import { flagWords } from '../flag-words.ts';
import type { Limits } from '../../state/current-capture.ts';
import type { LatestReading } from '../../state/live/latest-readings.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { Numeral } from '../Numeral.tsx';
import { StatusWord, type Tone } from '../StatusWord.tsx';
import './LivePanels.css';

interface Status {
  tone: Tone;
  word: string;
}

function meterProblem(latest: LatestReading<PressureUnit | SignalUnit> | undefined): Status | undefined {
  if (!latest) return { tone: 'plain', word: 'No meter' };
  if (latest.stale) return { tone: 'bad', word: 'No reading' };
  if (latest.flag) return { tone: 'bad', word: flagWords[latest.flag] };
  return undefined;
}

/** Whether gas flows and a flame burns, or nobody knows better: an alarm, shut gas or a missing flame silence every good word. */
const isHeld = (burner: BurnerView | undefined): boolean =>
  burner !== undefined && !burner.alarm && (burner.flame === 'burning' || burner.flame === 'unsteady');

/** Pilot pressure, as large as the place allows, in the unit of the capture. */
export function PressurePanel({
  latest,
  unit,
  limits,
}: {
  latest: LatestReading<PressureUnit> | undefined;
  unit: PressureUnit;
  limits: Limits;
}) {
  const value = latest ? convertPressure(latest.value, latest.unit, unit) : Number.NaN;
  const range = limits.makerRange;
  const inRange: Status | undefined = range && {
    tone: value < range.low || value > range.high ? 'warning' : 'good',
    word: value < range.low ? 'Below range' : value > range.high ? 'Above range' : 'In range',
  };
  const burner = useBurnerState();
  // In range means nothing while no flame burns there.
  const status = meterProblem(latest) ?? (isHeld(burner) ? inRange : undefined);
  return (
    <div className="live-panel" data-of="pressure">
      <Numeral
        name="Pilot pressure"
        size="huge"
        value={pressureNumber(value, unit)}
        unit={pressureUnitLabel(unit)}
        stale={latest?.stale ?? true}
      >
        {status && <StatusWord tone={status.tone}>{status.word}</StatusWord>}
      </Numeral>
    </div>
  );
}

/** Flame signal, in the same way. */
export function SignalPanel({
  latest,
  unit,
  limits,
}: {
  latest: LatestReading<SignalUnit> | undefined;
  unit: SignalUnit;
  limits: Limits;
}) {
  const value = (latest && convertSignal(latest.value, latest.unit, unit)) ?? Number.NaN;
  const minimum = limits.minimumSignal;
  const level: Status | undefined =
    minimum === undefined
      ? undefined
      : value < minimum
        ? { tone: 'warning', word: 'Below minimum' }
        : { tone: 'good', word: 'Signal OK' };
  const burner = useBurnerState();
  const status = meterProblem(latest) ?? (isHeld(burner) ? level : undefined);
  return (
    <div className="live-panel" data-of="signal">
      <Numeral
        name="Flame signal"
        size="huge"
        value={signalNumber(value, unit)}
        unit={signalUnitLabel(unit)}
        stale={latest?.stale ?? true}
      >
        {status && <StatusWord tone={status.tone}>{status.word}</StatusWord>}
      </Numeral>
    </div>
  );
}
