import { describe, expect, it } from 'vitest';
import { cellsIn } from '../../../electron/host/files/memory-limit.ts';

const bytesOf = (lines: string[]) => new TextEncoder().encode(`${lines.join('\n')}\n`);
const repeat = (line: string, times: number) => Array.from({ length: times }, () => line);

describe('the readings that a text file holds at most', () => {
  it.each([
    ['commas', ['elapsed_s,pilot_pressure_mbar,flame_signal_V', ...repeat('0.05,2.31,4.5', 9)], 20],
    ['commas, one meter a row', ['elapsed_s,pilot_pressure_mbar,flame_signal_V', ...repeat('0.05,,4.5', 9)], 11],
    ['semicolons, decimal commas', ['elapsed_s;pilot_pressure_mbar;flame_signal_V', ...repeat('0,05;2,31;4,5', 9)], 20],
    ['tabs, decimal commas', ['Zeit\tDruck [mbar]\tFlamme [V]', ...repeat('0,05\t2,31\t4,5', 9)], 20],
    ['lines before the heading', ['Ort: Halle 3, Kessel 2', 'Zeit;Druck', ...repeat('0,05;2,31', 18)], 19],
  ])('are its cells behind the first of each row: %s', (_, lines, expected) => {
    expect(cellsIn(bytesOf(lines))).toBe(expected);
  });

  it('are counted by every mark where neither tab nor semicolon is in nearly every line', () => {
    expect(cellsIn(bytesOf(['a;b', ...repeat('1,2', 9)]))).toBe(10);
  });
});
