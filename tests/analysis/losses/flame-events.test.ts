import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record, sweepDownAndUp, trueEnds } from '../burner-by-hand.ts';

// Lost at 1.5 and back at 1.8 inH2O, both above the signal's own low end of 1.22.
const lean = { ...goodPilot, lostBelow: 1.5, backAbove: 1.8, backBelow: 9 };
// Lost at 3.6 and back at 3.2 inH2O, below the signal's own high end of 3.98.
const rich = { ...goodPilot, lostAbove: 3.6, backAbove: 0, backBelow: 3.2 };
const downUpAndBack: Act[] = [
  { seconds: 8 },
  { seconds: 40, to: 1.4 },
  { seconds: 4 },
  { seconds: 80, to: 4.35 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
  { seconds: 8 },
];
const upDownAndBack: Act[] = [
  { seconds: 8 },
  { seconds: 50, to: 3.7 },
  { seconds: 4 },
  { seconds: 90, to: 0.95 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
  { seconds: 8 },
];
/** Within what a turn of 0.04 inH2O a second covers in the lag of a second and a half. */
const near = (value: number | undefined, truth: number) => expect(Math.abs(value! - truth)).toBeLessThan(0.06);
/** A spark of four seconds while the pressure stands at 2.4, gas on. */
const relitBySpark: Act[] = [
  { seconds: 8 },
  { seconds: 40, to: 1.4 },
  { seconds: 2 },
  { seconds: 20, to: 2.4 },
  { seconds: 4 },
  { seconds: 4, spark: true },
  { seconds: 8 },
  { seconds: 60, to: 4.35 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
];

describe('a flame that is lost at one pressure and comes back by itself at another', () => {
  it('bounds the window where it came back on the low side', () => {
    const { result } = answer(record(lean, downUpAndBack));
    expect(result.flameHysteresis).toHaveLength(1);
    expect(result.flameHysteresis![0]!.side).toBe('low');
    near(result.flameHysteresis![0]!.lostAt, 1.5);
    near(result.flameHysteresis![0]!.returnedAt, 1.8);
    near(result.window.low!.value, 1.8);
    expect(result.window.low!.cause).toBe('flame-lost');
    // The signal interval is that of the burning flame and keeps the loss.
    near(result.signalInterval.low!.value, 1.5);
  });

  it('and on the high side', () => {
    const { result } = answer(record(rich, upDownAndBack));
    expect(result.flameHysteresis).toHaveLength(1);
    expect(result.flameHysteresis![0]!.side).toBe('high');
    near(result.flameHysteresis![0]!.lostAt, 3.6);
    near(result.flameHysteresis![0]!.returnedAt, 3.2);
    near(result.window.high!.value, 3.2);
    near(result.signalInterval.high!.value, 3.6);
  });

  it('is not taken for one where gas was shut in between: the end is where it was lost', () => {
    const pilot = { ...goodPilot, lostBelow: 1.5 };
    const { result } = answer(
      record(pilot, [
        { seconds: 8 },
        { seconds: 40, to: 1.4 },
        { seconds: 4 },
        { seconds: 30, valve: 'shut', to: 2.4 },
        { seconds: 0.02, valve: 'open', spark: true },
        { seconds: 4, spark: true },
        { seconds: 8 },
        { seconds: 60, to: 4.35 },
        { seconds: 4 },
        { seconds: 60, to: 2.4 },
      ]),
    );
    expect(result.flameHysteresis).toBeUndefined();
    near(result.window.low!.value, 1.5);
    expect(result.window.low!.cause).toBe('flame-lost');
  });

  // Two seconds after the hand has come to rest at 1.9: by itself, or by a spark of which nothing is on record.
  it('may be taken for one soon after a turn: nothing is proved between the two pressures', () => {
    const late: Act[] = [
      { seconds: 8 },
      { seconds: 40, to: 1.4 },
      { seconds: 2 },
      { seconds: 12, to: 1.9 },
      { seconds: 2 },
      { seconds: 0.02, spark: true },
      { seconds: 8 },
      { seconds: 70, to: 4.35 },
      { seconds: 4 },
      { seconds: 60, to: 2.4 },
    ];
    const pilot = { ...goodPilot, lostBelow: 1.5, setup: { asLeftPressure: { value: 1.7, unit: 'inH2O' } } } as const;
    const { result } = answer(record(pilot, late));
    expect(result.flameHysteresis).toMatchObject([{ side: 'low', atRest: true }]);
    near(result.flameHysteresis![0]!.returnedAt, 1.9);
    near(result.window.low!.value, 1.9);
    // It may have been a spark: then the end is where the flame was lost.
    expect(result.window.low!.ci[0]).toBeLessThan(1.56);
    expect(result.asLeft!.decision).toMatch(/fail$/u);
  });

  it('nor where it was lit by a spark after some seconds at rest, on record or not', () => {
    const relit = record({ ...goodPilot, lostBelow: 1.5 }, relitBySpark);
    const entered: Capture = {
      ...relit,
      trials: [{ pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: true, elapsedS: 74 }],
    };
    for (const capture of [relit, entered]) {
      const { result } = answer(capture);
      expect(result.flameHysteresis).toBeUndefined();
      near(result.window.low!.value, 1.5);
    }
  });

  it('is not reported of a flame that was never lost', () => {
    const { result } = answer(record(goodPilot, sweepDownAndUp));
    expect(result.flameHysteresis).toBeUndefined();
    expect(result.excursions).toBeUndefined();
  });
});

describe('an excursion of the signal', () => {
  // At 2.65 inH2O, on the way up: 0.3 V for two seconds, with a plateau of 4.6 V.
  const [fromS, toS] = [74, 76];
  const plain = record(goodPilot, sweepDownAndUp);
  const dropped: Capture = {
    ...plain,
    readings: plain.readings.map((reading) =>
      reading.role === 'flame_signal' && reading.elapsedS >= fromS && reading.elapsedS < toS
        ? { ...reading, value: 0.3 }
        : reading,
    ),
  };

  it('is reported with its moment, its length, its pressure and its lowest signal', () => {
    const [one, ...rest] = answer(dropped).result.excursions!;
    expect(rest).toEqual([]);
    // Five readings a second.
    expect(Math.abs(one!.at_s - fromS)).toBeLessThan(0.21);
    expect(Math.abs(one!.seconds - (toS - fromS))).toBeLessThan(0.21);
    expect(one!.least).toBe(0.3);
    // The regulator went from 0.95 at 39 s to 4.35 at 109 s; the reading belongs to the pressure a second before.
    near(one!.pressure, 0.95 + ((fromS - 1 - 39) * 3.4) / 70);
  });

  it('does not end the window in the middle of the good pressures', () => {
    const { result } = answer(dropped);
    near(result.signalInterval.low!.value, trueEnds(goodPilot).low);
    near(result.signalInterval.high!.value, trueEnds(goodPilot).high);
    expect(result.warnings.map(({ code }) => code)).toContain('flame-lost-in-good-signal');
  });

  it('is none below the low end, where the signal is bad anyway, nor one reading alone, nor a valve that shut', () => {
    const spike: Capture = {
      ...plain,
      readings: plain.readings.map((reading) =>
        reading.role === 'flame_signal' && reading.elapsedS >= fromS && reading.elapsedS < fromS + 0.2
          ? { ...reading, value: 0.3 }
          : reading,
      ),
    };
    expect(answer(spike).result.excursions).toBeUndefined();
    const shut = record(goodPilot, [
      ...sweepDownAndUp,
      { seconds: 20, valve: 'shut' },
      { seconds: 0.02, valve: 'open', spark: true },
      { seconds: 4, spark: true },
      { seconds: 10 },
    ]);
    expect(answer(shut).result.excursions).toBeUndefined();
  });
});
