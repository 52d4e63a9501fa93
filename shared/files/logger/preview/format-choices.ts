import type { Mapping } from '../../../model/logger/mapping.ts';
import type { MappingQuestion } from '../../../model/logger/preview.ts';
import { columnName } from '../../../model/logger/mapping.ts';
import { formatDuration } from '../../../model/format.ts';
import { elapsedTimes } from '../time/elapsed-times.ts';
import { findTime, timeText } from '../time/find-time.ts';
import type { Proposal } from '../propose-mapping.ts';

/** Formats of the time as answers: what the first time of the file would then be, and how long the file would last. */
export function formatChoices(formats: string[], proposal: Proposal, given: Mapping): MappingQuestion['choices'] {
  const { heading, rows, decimal } = proposal;
  const table = { ...heading, rows, decimal };
  return formats.flatMap((format) => {
    // Where the format is the only thing that is open, the columns are found as they were.
    const time = findTime('', table, { ...given.time, format });
    if ('fault' in time) return [];
    const texts = rows.map((row) => timeText(row, time)).filter((text) => !Number.isNaN(time.read(text)));
    const mapping = {
      ...given,
      time: {
        column: columnName(heading.names, time.column),
        ...(time.dateColumn !== undefined && { dateColumn: columnName(heading.names, time.dateColumn) }),
        format,
      },
    };
    const times = elapsedTimes('', texts.map(time.read), { isClock: time.isClock, hasZone: false, format });
    const lasts = times.ok
      ? `the file lasts ${formatDuration(spanOf(times.value.elapsedS))}`
      : 'its clock would go back';
    return [{ label: `${inWords(time.read(texts[0] ?? ''), format, time.isClock)}; then ${lasts}`, mapping }];
  });
}

const spanOf = (elapsedS: number[]): number =>
  elapsedS.reduce((most, t) => Math.max(most, t), Number.NEGATIVE_INFINITY) -
  elapsedS.reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);

const counted: Record<string, string> = { s: 'Seconds', ms: 'Milliseconds', min: 'Minutes', h: 'Hours' };
const months = 'January February March April May June July August September October November December'.split(' ');

function inWords(seconds: number, format: string, isClock: boolean): string {
  const unit = counted[format];
  if (unit !== undefined) return unit;
  const date = new Date(seconds * 1000);
  const [h, m, s] = [date.getUTCHours(), date.getUTCMinutes(), date.getUTCSeconds()];
  if (isClock) return `${h} h ${m} min ${s} s (${format})`;
  return `${months[date.getUTCMonth()]} ${date.getUTCDate()}, ${date.getUTCFullYear()} (${format})`;
}
