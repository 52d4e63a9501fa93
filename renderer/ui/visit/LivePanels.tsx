import { pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../../../shared/model/format.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../../shared/model/units.ts';
import type { Limits } from '../../state/limits.ts';
import type { LatestReading } from '../../state/live/latest-readings.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import { Numeral } from '../Numeral.tsx';
import { StatusWord } from '../StatusWord.tsx';
import { type LiveWord, pressureWord, signalWord } from './live-words.ts';
import './LivePanels.css';

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
  const word = pressureWord(latest, useBurnerState(), value, limits.makerRange);
  return (
    <LivePanel
      of="pressure"
      name="Pilot pressure"
      value={pressureNumber(word?.isBlank ? Number.NaN : value, unit)}
      unit={pressureUnitLabel(unit)}
      word={word}
    />
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
  const word = signalWord(latest, useBurnerState(), value, limits.minimumSignal);
  return (
    <LivePanel
      of="signal"
      name="Flame signal"
      value={signalNumber(word?.isBlank ? Number.NaN : value, unit)}
      unit={signalUnitLabel(unit)}
      word={word}
    />
  );
}

function LivePanel({
  of,
  name,
  value,
  unit,
  word,
}: {
  of: 'pressure' | 'signal';
  name: string;
  value: string;
  unit: string;
  word: LiveWord | undefined;
}) {
  return (
    <div className="live-panel" data-of={of}>
      {/* Anew when it is blanked: Chromium was seen to leave the changed size container without any height. */}
      <Numeral
        key={String(word?.isBlank)}
        name={name}
        size="huge"
        value={value}
        unit={unit}
        stale={word?.tone === 'bad' || word?.isBlank === true}
      >
        {word && <StatusWord tone={word.tone}>{word.word}</StatusWord>}
      </Numeral>
    </div>
  );
}
