import { excerpt } from '../skipped-rows.ts';
import { leftOut, type Proposal } from './propose-mapping.ts';

/** What was taken for what, in one sentence. */
export function taken(file: string, encoding: string, proposal: Proposal): string {
  const { separator, decimal, time, heading, columns } = proposal;
  const others = leftOut(proposal);
  const mark = separator === '\t' ? 'tabs' : `"${separator}"`;
  const named = columns.map(
    ({ name, role, unitText, because }) =>
      `"${excerpt(name)}" as ${role.replaceAll('_', ' ')} in ${unitText} (${because})`,
  );
  const left =
    others.length === 0
      ? ''
      : `; left out: ${others
          .slice(0, 20)
          .map((name) => `"${excerpt(name)}"`)
          .join(', ')}`;
  const clock = time && `time from "${excerpt(heading.names[time.column] ?? '')}" as ${time.format}`;
  return `${file}: read as ${encoding}, separated by ${mark}, decimal "${decimal}", ${clock}; ${named.join(', ')}${left}.`;
}
