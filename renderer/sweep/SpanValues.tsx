import { useEffect, useRef } from 'react';
import {
  formatElapsed,
  formatNumber,
  formatSeconds,
  pressureNumber,
  pressureUnitLabel,
  signalNumber,
  signalUnitLabel,
} from '../../shared/model/format.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import type { PressureUnit, SignalUnit } from '../../shared/model/units.ts';
import { type SpanStatistics, spanStatistics } from '../state/live/span-statistics.ts';
import type { Recording } from '../state/live/recording.ts';
import { Button } from '../ui/controls/Button.tsx';

/** What both meters showed in the selected span. */
export function SpanValues({
  recording,
  selected: { fromS, toS },
  units,
  onClear,
}: {
  recording: Recording;
  selected: TimeSpan;
  units: { pressure: PressureUnit; signal: SignalUnit };
  onClear: () => void;
}) {
  const of = (role: 'pilot_pressure' | 'flame_signal') => spanStatistics(recording.buffer.column(role), fromS, toS);
  const rows = [
    {
      name: `Pressure, ${pressureUnitLabel(units.pressure)}`,
      cells: statisticsCells(of('pilot_pressure'), (value) => pressureNumber(value, units.pressure)),
    },
    {
      name: `Signal, ${signalUnitLabel(units.signal)}`,
      cells: statisticsCells(of('flame_signal'), (value) => signalNumber(value, units.signal)),
    },
  ];
  const name = `${formatElapsed(fromS)} to ${formatElapsed(toS)}, ${formatSeconds(toS - fromS)}`;
  const root = useRef<HTMLDivElement>(null);
  // On a low screen it would appear below what is in view.
  useEffect(() => {
    root.current?.scrollIntoView({ block: 'nearest' });
  }, []);
  return (
    <div ref={root} className="span-values">
      <div className="sweep-bar">
        <strong>{name}</strong>
        <Button onClick={onClear}>Clear</Button>
      </div>
      <table aria-label={name}>
        <thead>
          <tr>
            {['meter', 'mean', 'std. dev.', 'lowest', 'highest', 'readings'].map((heading) => (
              <th key={heading} scope="col">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, cells }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {cells.map((cell, place) => (
                <td key={place}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Mean, standard deviation, lowest, highest and number of readings: "2.51", "0.012", "2.48", "2.55", "327". */
export function statisticsCells(found: SpanStatistics, valueText: (value: number) => string): readonly string[] {
  const { count, flagged, mean, deviation, lowest, highest } = found;
  const without = flagged > 0 ? `, and ${flagged.toLocaleString('en-US')} without a number` : '';
  return [
    valueText(mean),
    twoDigits(deviation),
    valueText(lowest),
    valueText(highest),
    `${count.toLocaleString('en-US')}${without}`,
  ];
}

/** A number with two digits that count; a dash for NaN. */
const twoDigits = (value: number): string =>
  formatNumber(value, value > 0 ? Math.max(0, 1 - Math.floor(Math.log10(value))) : 0);
