import { beforeEach, describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { forgetFits } from '../../../shared/analysis/curve/fit-curve.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';

// The same sound part must not spare a test its fit.
beforeEach(forgetFits);

const simulated = simulateVisit('clean', 2).capture;
/** Its readings in the order of their times. */
const capture: Capture = { ...simulated, readings: simulated.readings.toSorted((a, b) => a.elapsedS - b.elapsedS) };
const year = 365.25 * 86_400;

/** The capture with other times: from the time of a reading, its index and how many there are. */
const timed = (change: (elapsedS: number, i: number, n: number) => number): Capture => ({
  ...capture,
  readings: capture.readings.map((reading, i, all) => ({
    ...reading,
    elapsedS: change(reading.elapsedS, i, all.length),
  })),
});

const megabytes = () => process.memoryUsage().heapUsed / 1e6;

describe('hours that cannot be', () => {
  it.each<[string, Capture]>([
    ['the last tenth 56 years later', timed((s, i, n) => (i < 0.9 * n ? s : s + 56 * year))],
    ['the last third 56 years later', timed((s, i, n) => (i < 0.67 * n ? s : s + 56 * year))],
    ['the last third 40 hours later', timed((s, i, n) => (i < 0.67 * n ? s : s + 40 * 3600))],
    ['the first twentieth 56 years earlier', timed((s, i, n) => (i > 0.05 * n ? s : s - 56 * year))],
    ['one reading at 1e304 s', timed((s, i, n) => (i < n - 1 ? s : 1e304))],
    ['one reading at -1e304 s', timed((s, i) => (i > 0 ? s : -1e304))],
  ])('%s: analyzed in its sound part, with a warning, in bounded time and memory', (_what, odd) => {
    const before = megabytes();
    const startedMs = performance.now();
    const result = analyze(odd);
    expect(performance.now() - startedMs).toBeLessThan(20_000);
    expect(megabytes() - before).toBeLessThan(500);
    if (!result.ok) throw new Error(result.fault.message);
    const { warnings, findings, window } = result.value.result;
    expect([...warnings, ...findings].map(({ code }) => code)).toContain('hours-apart');
    expect(window.status).not.toBe('none');
  });

  it.each<[string, Capture]>([
    ['steps of 1e304 s', timed((_s, i) => i * 1e304)],
    ['a reading a year', timed((_s, i) => i * year)],
    ['a reading every two hours', timed((_s, i) => i * 7200)],
    ['no time at all', timed(() => Number.NaN)],
    ['infinite times', timed((_s, i) => (i % 2 ? Infinity : -Infinity))],
    ['one moment', timed(() => 5)],
  ])('%s: refused in words or analyzed, in bounded time and memory', (_what, odd) => {
    const before = megabytes();
    const startedMs = performance.now();
    const result = analyze(odd);
    expect(performance.now() - startedMs).toBeLessThan(20_000);
    expect(megabytes() - before).toBeLessThan(500);
    if (!result.ok) expect(result.fault.code).not.toBe('internal');
    expect(JSON.stringify(result)).not.toMatch(/NaN|Infinity/u);
  });

  it.each<[string, Capture]>([
    ['descending', { ...capture, readings: capture.readings.toReversed() }],
    [
      'negative',
      {
        ...timed((s) => s - 1e6),
        marks: capture.marks.map((mark) => ({ ...mark, elapsedS: mark.elapsedS - 1e6 })),
        trials: capture.trials.map((trial) => ({ ...trial, elapsedS: (trial.elapsedS ?? 0) - 1e6 })),
      },
    ],
  ])('%s times give the same window', (_what, odd) => {
    const [usual, result] = [analyze(capture), analyze(odd)];
    if (!usual.ok || !result.ok) throw new Error('not analyzed');
    const { low, high } = usual.value.result.window;
    expect(result.value.result.window.low?.value).toBeCloseTo(low!.value, 2);
    expect(result.value.result.window.high?.value).toBeCloseTo(high!.value, 2);
  });
});
