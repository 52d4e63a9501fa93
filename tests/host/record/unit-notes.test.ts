import { expect, it } from 'vitest';
import type { Meter, MeterLine } from '../../../electron/host/acquire/meter/meter.ts';
import type { Target } from '../../../electron/host/acquire/record/store-writer.ts';
import { createUnitNotes } from '../../../electron/host/acquire/record/unit-notes.ts';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import { Profile } from '../../../shared/model/profile.ts';

const profile = Profile.parse({
  name: 'test',
  line: { format: 'delimited', delimiter: ';' },
  channels: [
    { role: 'pilot_pressure', unit: 'inH2O', field: 0 },
    { role: 'flame_signal', unit: 'V', field: 1 },
  ],
});

/** A recording that can be replaced, and a meter that prints lines into it, one per second. */
function recordingOf() {
  const decode = createLineDecoder(profile);
  const meter = { port: 'COM3', profile } as Meter;
  const marks: Mark[] = [];
  let target: Target | undefined;
  let atMs = 10_000;
  const note = createUnitNotes({ target: () => target, mark: (mark) => void marks.push(mark) });
  return {
    begin: (id: string) => (target = { id, zeroMs: atMs } as Target),
    print(...lines: string[]) {
      for (const text of lines) {
        atMs += 1000;
        note({ meter, atMs, text, bytes: Buffer.from(text), readings: decode(text) } satisfies MeterLine);
      }
    },
    notes: () => marks.map(({ elapsedS, kind, text }) => `${elapsedS} ${kind}: ${text}`),
  };
}

it('a switch of units is noted once, when it happens, and so is the switch back', () => {
  const { begin, print, notes } = recordingOf();
  begin('a');
  print('1.0 inH2O;4 V', '2.49 mbar;4 V', '2.50 mbar;4 V', 'OL;4 V', '2.51 mbar;4000 mV', '1.0;4 V', '1.0 inH2O;4 V');
  expect(notes()).toEqual([
    '2 note: COM3 now prints mbar, converted to inH2O',
    '5 note: COM3 now prints mV, converted to V',
    '6 note: COM3 no longer prints mbar; its numbers are read as inH2O',
    '6 note: COM3 no longer prints mV; its numbers are read as V',
  ]);
});

it('from one foreign unit to another is a switch too', () => {
  const { begin, print, notes } = recordingOf();
  begin('a');
  print('2.49 mbar;4 V', '249 Pa;4 V', '249 kgf;4 V', '250 Pa;4 V');
  expect(notes()).toEqual([
    '1 note: COM3 now prints mbar, converted to inH2O',
    '2 note: COM3 now prints Pa, converted to inH2O',
  ]);
});

it('each recording has its own note of a meter that printed another unit before it began', () => {
  const { begin, print, notes } = recordingOf();
  print('2.49 mbar;4 V');
  expect(notes()).toEqual([]);
  begin('a');
  print('2.49 mbar;4 V', '2.49 mbar;4 V');
  begin('b');
  print('2.49 mbar;4 V');
  expect(notes()).toEqual([
    '1 note: COM3 now prints mbar, converted to inH2O',
    '1 note: COM3 now prints mbar, converted to inH2O',
  ]);
});

it('a meter that hovers between two units does not fill the time line', () => {
  const { begin, print, notes } = recordingOf();
  begin('a');
  for (let second = 1; second <= 300; second += 1) print(second % 2 === 0 ? '1;0.999 V' : '1;999 mV');
  // Ten in the first ten seconds, then one a minute for 290 s.
  expect(notes()).toHaveLength(10 + 4);
});
