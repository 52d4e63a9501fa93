import { describe, expect, it } from 'vitest';
import { isPractice } from '../../shared/model/practice-mark.ts';

const gauge = { port: 'practice:manometer' };
const real = { port: '/dev/ttyUSB0' };

describe('a capture is practice', () => {
  it.each([
    ['it says so, whatever its meters are', { practice: true, meters: [real], lines: [real] }],
    ['one of its meters is of the practice bench', { meters: [real, gauge], lines: [] }],
    ['a line came from the practice bench, though no meter is named', { meters: [], lines: [real, gauge] }],
    ['it denies it, but has a meter of the practice bench', { practice: false, meters: [gauge] }],
  ])('when %s', (_when, capture) => expect(isPractice(capture)).toBe(true));

  it.each([
    ['nothing says so', {}],
    ['its meters are on ports of this computer or of a network', { meters: [real, { port: 'tcp://10.0.0.7:4001' }] }],
    ['a port only has the word in its name', { meters: [{ port: '/dev/serial/by-id/practice:manometer' }] }],
  ])('and is not when %s', (_when, capture) => expect(isPractice(capture)).toBe(false));
});
