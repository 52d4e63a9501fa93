import { expect, it } from 'vitest';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import { requestFrame, requestsOf } from '../../../shared/instruments/modbus/request.ts';
import { readProfile } from '../../../shared/instruments/profile-file.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { isRefused, mutatedJson, mutatedText, tryMutations } from './mutate.ts';

// One of each format, as the README shows them.
const originals: Record<string, unknown> = {
  'a pattern': {
    name: 'Gauge with a label',
    serial: { baudRate: 19_200 },
    line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[-+0-9.]+ *\\w*)' },
    channels: [{ role: 'pilot_pressure', unit: 'mbar' }],
    overload: ['OL'],
    accuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'mbar' },
  },
  registers: {
    name: 'Pressure transmitter',
    mode: 'poll',
    poll: { everyMs: 200 },
    line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 107, type: 'int16' },
    channels: [{ role: 'pilot_pressure', unit: 'Pa', scale: 0.1, function: 4, address: 8 }],
  },
  'a poll': {
    name: 'Multimeter, polled',
    mode: 'poll',
    poll: { send: 'READ?\n', everyMs: 200 },
    line: { format: 'scpi' },
    channels: [{ role: 'flame_signal', unit: 'V' }],
  },
  fields: {
    name: 'Two channels',
    line: { format: 'delimited', delimiter: ',' },
    channels: [
      { role: 'pilot_pressure', unit: 'inH2O', field: 0, scale: 2, offset: -1 },
      { role: 'flame_signal', unit: 'V', field: 1 },
    ],
  },
};

const lines = [
  '',
  '2.41',
  'P=2.41 mbar',
  '1.2,4.6',
  '+9.9E37',
  'OL',
  `${'1'.repeat(250)}!`,
  '010304022B0000',
  '\u0000\uFFFD;',
];
const hostile = [
  ':010600010001F7',
  '\\r\\n',
  '\\u0000',
  '\\u001b',
  '6',
  '16',
  '-',
  '1e999',
  '(a+)+',
  '{9999}',
  '"',
  '[',
  '\u0000',
];

it.each(Object.entries(originals))(
  'mutated profiles, %s: refused, or nothing but text or a read request goes to the port, and every line gives numbers or flags',
  (what, original) => {
    const judge = (text: string) => {
      const read = readProfile({ file: 'meter.json', text });
      if (!read.ok) return isRefused(read.fault);
      expect(harmfulRequest(read.value.profile), text).toBeUndefined();
      const decode = createLineDecoder(read.value.profile);
      for (const reading of lines.flatMap((line) => decode(line)))
        expect(Number.isFinite(reading.value) === (reading.flag === undefined), text).toBe(true);
      return true;
    };
    tryMutations(`profiles (${what})`, mutatedJson(original), (json) => judge(JSON.stringify(json)));
    tryMutations(`profiles (${what}) as text`, mutatedText(JSON.stringify(original), hostile), judge);
  },
);

/**
 * What a profile would write to a port and must not. By the published format: a poll is printable text with line ends or tabs and never
 * a Modbus ASCII frame; a Modbus request only reads: function 3 or 4 (MODBUS Application Protocol V1.1b3, 6.3 and 6.4).
 */
function harmfulRequest(profile: Profile): string | undefined {
  if (profile.line.format === 'modbus-rtu') {
    const frames = requestsOf(profile).map(requestFrame);
    return frames.some((frame) => frame.length !== 8 || ![3, 4].includes(frame[1]!))
      ? 'a request that writes'
      : undefined;
  }
  const sent = profile.mode === 'poll' ? (profile.poll?.send ?? '') : '';
  for (const char of sent)
    if (!'\t\r\n'.includes(char) && (char < ' ' || char > '~')) return `the character ${char.codePointAt(0)}`;
  for (const part of sent.split(':').slice(1))
    if (/^[\da-f]{6,}[ \t]*([\r\n]|$)/i.test(part)) return 'a Modbus ASCII frame';
  return undefined;
}
