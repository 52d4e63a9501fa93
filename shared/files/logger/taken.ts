import { formatWallTime } from '../../model/format.ts';
import type { LoggerStart } from '../../model/logger/preview.ts';
import { excerpt } from '../skipped-rows.ts';
import { quoted } from './column-text.ts';
import { leftOut, type Proposal } from './propose-mapping.ts';

const zoneWords = { file: 'in the time zone of the file', computer: 'in the time zone of this computer' };

/** What was taken for what, in one sentence. */
export function taken(file: string, encoding: string, proposal: Proposal, start: LoggerStart | undefined): string {
  const { separator, decimal, time, heading, columns } = proposal;
  const others = leftOut(proposal);
  const mark = separator === '\t' ? 'tabs' : `"${separator}"`;
  const named = columns.map(
    ({ index, name, role, unitText, because }) =>
      `${quoted(name, index)} as ${role.replaceAll('_', ' ')} in ${unitText} (${because})`,
  );
  const left =
    others.length === 0
      ? ''
      : `; left out: ${others
          .slice(0, 20)
          .map((name) => `"${excerpt(name)}"`)
          .join(', ')}`;
  const clock = time && `time from ${quoted(heading.names[time.column] ?? '', time.column)} as ${time.format}`;
  const began = start ? `; begun ${formatWallTime(start.at)}, ${zoneWords[start.zone]}` : '';
  return `${file}: read as ${encoding}, separated by ${mark}, decimal "${decimal}", ${clock}; ${named.join(', ')}${left}${began}.`;
}
