import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import { tokenizeLine } from '../../../shared/instruments/derive/line-tokens.ts';
import { Profile } from '../../../shared/model/profile.ts';
import {
  changeUnit,
  draftOf,
  emptyDraft,
  removeChannel,
  linesOf,
  type Draft,
} from '../../../renderer/meters/profile/draft/draft.ts';
import { rawLine, withEscapes, withoutEscapes } from '../../../renderer/meters/profile/draft/escapes.ts';
import { lineReading, makeProfile, pointAt } from '../../../renderer/meters/profile/draft/make-profile.ts';

const lines = ['1.20;3.40', '1.21;3.41'];
const place = (row: number, part: number, role: 'pilot_pressure' | 'flame_signal', unit: 'inH2O' | 'V') => {
  const line = lines[row]!;
  return { line, ...tokenizeLine(line, 'separator')[part]!, role, unit };
};
const made = (draft: Draft) => makeProfile(draft, lineReading(draft, lines));
const both = pointAt(
  pointAt({ ...emptyDraft, name: 'mine' }, place(0, 0, 'pilot_pressure', 'inH2O'), undefined, lines),
  place(1, 1, 'flame_signal', 'V'),
  undefined,
  lines,
);

describe('control characters as escapes', () => {
  it('are read back unchanged', () => {
    const text = 'READ?\r\n\t\u001b\\n';
    expect(withEscapes(text)).toBe(String.raw`READ?\r\n\t\x1b\\n`);
    expect(withoutEscapes(withEscapes(text))).toBe(text);
  });
  it('are refused after a backslash that means nothing', () => {
    expect(withoutEscapes(String.raw`READ\q`)).toBeUndefined();
    expect(withoutEscapes('READ\\')).toBeUndefined();
  });
  it('in a line that the host shows give the line as received', () => {
    expect(rawLine(String.raw`2.31\x094.60`)).toBe('2.31\t4.60');
  });
});

describe('a profile draft', () => {
  it('takes lines with ends of every kind and leaves out the empty ones', () => {
    expect(linesOf('1\r\n2\n\n3\r4')).toEqual(['1', '2', '3', '4']);
  });

  it('becomes a profile that reads what was pointed at, with scale, offset and accuracy as typed', () => {
    const { profile, problems } = made({
      ...both,
      numbers: { flame_signal: { scale: '2', offset: '-0,5' } },
      accuracyPercent: '0.5',
      mode: 'poll',
      pollSend: String.raw`D\r`,
      pollEvery: '250',
    });
    expect(problems).toEqual([]);
    expect(profile).toMatchObject({
      name: 'mine',
      line: { format: 'delimited', delimiter: ';' },
      mode: 'poll',
      poll: { send: 'D\r', everyMs: 250 },
      accuracy: { percentOfReading: 0.5, absolute: 0, unit: 'inH2O' },
    });
    // 3.40 x 2 - 0.5
    expect(createLineDecoder(profile!)('1.20;3.40').map(({ value }) => value)).toEqual([1.2, 6.3]);
  });

  it('lists in sentences what is missing or wrong', () => {
    expect(made(emptyDraft).problems).toEqual(['Enter a name for the profile.', 'Select a number in a line.']);
    expect(made({ ...both, baudRate: 'fast' }).problems).toEqual(['Baud rate: "fast" is not a number.']);
    expect(made({ ...both, mode: 'poll', pollSend: '' }).problems).toEqual([
      'Enter the poll text, or choose that the meter sends continuously.',
    ]);
    expect(made({ ...both, baudRate: '7' }).problems[0]).toContain('serial.baudRate');
  });

  it('keeps the newest where two places for one channel contradict each other', () => {
    const corrected = pointAt(both, place(1, 0, 'flame_signal', 'V'), 'pilot_pressure', lines);
    expect(corrected.pointed).toEqual([place(1, 0, 'flame_signal', 'V')]);
  });

  it('removes a channel, and changes its unit', () => {
    expect(removeChannel(both, 'pilot_pressure').pointed.map(({ role }) => role)).toEqual(['flame_signal']);
    expect(lineReading(changeUnit(both, 'flame_signal', 'mV'), lines)!.channels[1]!.unit).toBe('mV');
  });

  it('of an existing profile gives that profile again', () => {
    const profile = Profile.parse({
      name: 'existing',
      serial: { baudRate: 19200, dataBits: 7, parity: 'even', stopBits: 2 },
      mode: 'poll',
      poll: { send: 'READ?\r\n', everyMs: 1000 },
      line: { format: 'pattern', pattern: 'P(?<pilot_pressure>[\\d.]+)' },
      channels: [{ role: 'pilot_pressure', unit: 'Pa', scale: 0.1, offset: 2 }],
      overload: ['over'],
      accuracy: { percentOfReading: 0.25, absolute: 1, unit: 'Pa' },
    });
    expect(made(draftOf(profile, [])).profile).toEqual(profile);
  });
});
