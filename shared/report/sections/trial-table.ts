import type { Trial } from '../../model/capture.ts';
import {
  formatElapsed,
  formatNumber,
  formatPressure,
  formatPurge,
  formatSpark,
  noNumber,
  pressureNumber,
  pressureUnitLabel,
} from '../../model/format.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import { isLit, replacedBy } from '../../model/trials/valid-trials.ts';
import type { Block, Column } from '../document.ts';

const sourceLabels: Record<NonNullable<Trial['knownBy']>, string> = {
  meters: 'meters',
  hand: 'by hand',
  corrected: 'corrected',
};
const purgeLabels: Record<NonNullable<Trial['purgeBy']>, string> = {
  control: 'by the control',
  hand: 'by hand',
  air: 'fan pressure shown',
  confirmed: 'fan confirmed',
};

type TrialColumn = Column & { cell(trial: Trial, index: number): string };

/** Every entry of the record, also those that were corrected or discarded, each with what became of it. */
export function trialTable(trials: readonly Trial[], unit: PressureUnit, trialSeconds: number): Block {
  const replaced = replacedBy(trials);
  const columns: TrialColumn[] = [
    { heading: 'No.', align: 'right', share: 8, cell: (_trial, i) => String(i + 1) },
    {
      heading: 'Time, min:s',
      align: 'right',
      share: 16,
      cell: ({ elapsedS }) => (elapsedS === undefined ? noNumber : formatElapsed(elapsedS)),
    },
    {
      heading: `Pressure, ${pressureUnitLabel(unit)}`,
      align: 'right',
      share: 22,
      cell: (trial) => pressureNumber(convertPressure(trial.pressure, trial.unit, unit), unit),
    },
    { heading: 'Spark', align: 'left', share: 18, cell: ({ sparkDelayS }) => formatSpark(sparkDelayS) },
    { heading: 'Time to prove, s', align: 'right', share: 20, cell: ({ timeToProveS }) => tenths(timeToProveS) },
    ...used(trials, 'timeToProveFromSparkS', {
      heading: 'From the spark, s',
      align: 'right',
      share: 16,
      cell: ({ timeToProveFromSparkS }) => tenths(timeToProveFromSparkS),
    }),
    ...used(trials, 'purgeS', {
      heading: 'Purge before',
      align: 'left',
      share: 20,
      cell: ({ purgeS, purgeBy }) =>
        [purgeS !== undefined && formatPurge(purgeS), purgeBy && purgeLabels[purgeBy]].filter(Boolean).join(', ') ||
        'none recorded',
    }),
    ...used(trials, 'knownBy', {
      heading: 'Known by',
      align: 'left',
      share: 14,
      cell: ({ knownBy }) => (knownBy ? sourceLabels[knownBy] : ''),
    }),
    { heading: 'Result', align: 'left', share: 16, cell: (_trial, i) => resultText(trials, replaced, i, trialSeconds) },
  ];
  return {
    kind: 'table',
    columns: columns.map(({ heading, align, share }) => ({ heading, align, share })),
    rows: trials.map((trial, i) =>
      columns.map(({ cell, heading }) => (isDiscard(trial) && !ownOfDiscard.includes(heading) ? '' : cell(trial, i))),
    ),
  };
}

/** An entry that discards another one repeats its facts: they are shown once, with the trial. */
const isDiscard = ({ status, corrects }: Trial): boolean => status === 'void' && corrects !== undefined;
const ownOfDiscard = ['No.', 'Result'];

/** The column, when a trial has what it shows. */
const used = (trials: readonly Trial[], key: keyof Trial, column: TrialColumn): TrialColumn[] =>
  trials.some((trial) => trial[key] !== undefined) ? [column] : [];

const tenths = (seconds: number | undefined): string => (seconds === undefined ? noNumber : formatNumber(seconds, 1));

/** "lit", and what became of an entry that does not count anymore. */
function resultText(
  trials: readonly Trial[],
  replaced: readonly (number | undefined)[],
  index: number,
  trialSeconds: number,
): string {
  const trial = trials[index]!;
  const { status, corrects } = trial;
  const observed = isLit(trial, trialSeconds) ? 'lit' : trial.lit ? 'NOT LIT in time' : 'NOT LIT';
  const result = status !== 'void' ? observed : corrects ? `discards no. ${corrects}` : 'discarded';
  const by = replaced[index];
  if (by === undefined) return result;
  return `${result}; ${trials[by - 1]!.status === 'void' ? 'discarded' : 'corrected'} by no. ${by}`;
}

/** What a trial has that no column shows. */
export function remarks(trial: Trial, name: string, unit: PressureUnit): string[] {
  const { corrects, status, reason, note } = trial;
  const shown = (pressure: number | undefined, when: string) =>
    pressure === undefined ? [] : [`${formatPressure(convertPressure(pressure, trial.unit, unit), unit)} ${when}`];
  const isRepeated = isDiscard(trial);
  const pressures = isRepeated
    ? []
    : [...shown(trial.pressureBefore, 'before the gas came on'), ...shown(trial.pressureAfter, 'after it was shut')];
  const does = corrects === undefined ? '' : ` ${status === 'void' ? 'discards' : 'corrects'} no. ${corrects}`;
  return [
    ...(does || reason ? [`${name}${does}${reason ? `: ${reason}` : ''}`] : []),
    ...(pressures.length > 0 ? [`${name}: ${pressures.join(', ')}`] : []),
    ...(note && !isRepeated ? [`${name}: ${note}`] : []),
  ];
}
