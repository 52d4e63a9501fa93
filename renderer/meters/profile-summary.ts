import type { Profile } from '../../shared/model/profile.ts';
import { unitLabel } from '../../shared/model/format.ts';
import { roleLabels } from '../../shared/report/labels.ts';

/** What is read from a line, in words. */
export const lineWords: Record<Profile['line']['format'], string> = {
  number: 'the first number of each line',
  delimited: 'fields between separators',
  pattern: 'numbers by a pattern',
  scpi: 'the numbers of each response',
  'modbus-rtu': 'Modbus registers',
};

/** A profile in two sentences: how the port is opened, and what is read from a line. */
export function profileSummary({ serial, mode, poll, line, channels, accuracy }: Profile): string {
  const { baudRate, dataBits, parity, stopBits } = serial;
  const port = `${baudRate} baud, ${dataBits} data bits, ${parity === 'none' ? 'no' : parity} parity, ${stopBits} stop bit${stopBits > 1 ? 's' : ''}`;
  const sending = mode === 'poll' && poll ? `polled every ${poll.everyMs} ms` : 'the meter sends continuously';
  const channelsText = channels.map(({ role, unit }) => `${roleLabels[role]} in ${unitLabel(unit)}`).join(', ');
  const accuracyText = accuracy
    ? ` Accuracy ± (${accuracy.percentOfReading} % of reading + ${accuracy.absolute} ${unitLabel(accuracy.unit)}).`
    : '';
  return `${port}; ${sending}. Reads ${lineWords[line.format]}: ${channelsText}.${accuracyText}`;
}
