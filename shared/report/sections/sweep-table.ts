import type { Capture } from '../../model/capture.ts';
import { formatElapsed, formatPressureRange, noNumber } from '../../model/format.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import { type VisitItem, visitItems } from '../charts/visit-items.ts';
import type { Block } from '../document.ts';

/** The sweeps by the numbers they have on the time line, the discarded ones with the reason. */
export function sweepTable(capture: Capture, unit: PressureUnit): Block[] {
  const sweeps = visitItems(capture).filter(({ kind }) => kind === 'sweep');
  if (sweeps.length === 0) return [];
  return [
    {
      kind: 'table',
      columns: [
        { heading: 'Sweep', align: 'right', share: 10 },
        { heading: 'From, min:s', align: 'right', share: 14 },
        { heading: 'To, min:s', align: 'right', share: 14 },
        { heading: 'Pressures', align: 'left', share: 24 },
        { heading: 'Counts', align: 'left', share: 38 },
      ],
      rows: sweeps.map((sweep) => [
        String(sweep.number),
        formatElapsed(sweep.fromS),
        sweep.toS === Infinity ? noNumber : formatElapsed(sweep.toS),
        pressuresOf(sweep, capture, unit),
        sweep.verdict === 'discarded' ? `no, discarded${sweep.reason ? `: ${sweep.reason}` : ''}` : 'yes',
      ]),
    },
  ];
}

function pressuresOf({ fromS, toS }: VisitItem, { readings }: Capture, unit: PressureUnit): string {
  const values = readings
    .filter(
      ({ role, elapsedS, value }) =>
        role === 'pilot_pressure' && elapsedS >= fromS && elapsedS <= toS && Number.isFinite(value),
    )
    .map((reading) => convertPressure(reading.value, reading.unit as PressureUnit, unit));
  return values.length > 0 ? formatPressureRange(extremes(values), unit) : noNumber;
}

/** The lowest and the highest value of a list that is not empty. */
const extremes = (values: readonly number[]): [number, number] =>
  values.reduce<[number, number]>(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Infinity, -Infinity],
  );
