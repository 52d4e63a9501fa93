import { formatElapsed, formatNumber, formatSeconds } from '../../shared/model/format.ts';
import { type SpanStatistics, spanStatistics } from '../state/live/span-statistics.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import type { Recording } from '../state/live/recording.ts';
import { Button } from '../ui/controls/Button.tsx';

/** What both meters showed in the selected span. */
export function SpanValues({
  recording,
  selected: { fromS, toS },
  pressureText,
  signalText,
  onClear,
}: {
  recording: Recording;
  selected: TimeSpan;
  pressureText: (value: number) => string;
  signalText: (value: number) => string;
  onClear: () => void;
}) {
  const of = (role: 'pilot_pressure' | 'flame_signal') => spanStatistics(recording.buffer.column(role), fromS, toS);
  return (
    <div className="span-values">
      <output>
        <p>{`${formatElapsed(fromS)} to ${formatElapsed(toS)}, ${formatSeconds(toS - fromS)}`}</p>
        <p>{`Pressure: ${statisticsWords(of('pilot_pressure'), pressureText)}`}</p>
        <p>{`Signal: ${statisticsWords(of('flame_signal'), signalText)}`}</p>
      </output>
      <Button onClick={onClear}>Clear</Button>
    </div>
  );
}

/** "mean 2.51 inH2O, standard deviation 0.012, lowest 2.48 inH2O, highest 2.55 inH2O, 327 readings". */
export function statisticsWords(found: SpanStatistics, valueText: (value: number) => string): string {
  const { count, flagged, mean, deviation, lowest, highest } = found;
  const without = flagged > 0 ? `, ${flagged.toLocaleString('en-US')} without a number` : '';
  if (count === 0) return `no reading${without}`;
  const scatter = count > 1 ? `, standard deviation ${twoDigits(deviation)}` : '';
  const readings = `${count.toLocaleString('en-US')} ${count === 1 ? 'reading' : 'readings'}`;
  return `mean ${valueText(mean)}${scatter}, lowest ${valueText(lowest)}, highest ${valueText(highest)}, ${readings}${without}`;
}

/** A number with two digits that count. */
const twoDigits = (value: number): string =>
  formatNumber(value, value > 0 ? Math.max(0, 1 - Math.floor(Math.log10(value))) : 0);
