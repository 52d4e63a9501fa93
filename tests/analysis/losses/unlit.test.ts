import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer, codesOf } from '../answer.ts';
import { type Act, goodPilot, record, slowSweep, trueEnds, turnedFastInTheEnd } from '../burner-by-hand.ts';

const purgeAndRelight = (at: number): Act[] => [
  { seconds: 30, valve: 'shut', to: at },
  { seconds: 0.02, valve: 'open', spark: true },
  { seconds: 4, spark: true },
  { seconds: 8 },
];
const near = (value: number | undefined, truth: number) => expect(Math.abs(value! - truth)).toBeLessThan(0.06);

describe('a pilot that was lost or shut during the capture', () => {
  it('does not take the closing of the valve for a lost flame where no fan-only pressure was entered', () => {
    // Shut at 2.9 on the way up, relit, and swept on.
    const capture = record(goodPilot, [
      { seconds: 8 },
      { seconds: 40, to: 0.95 },
      { seconds: 4 },
      { seconds: 50, to: 2.9 },
      ...purgeAndRelight(2.9),
      { seconds: 40, to: 4.35 },
      { seconds: 4 },
      { seconds: 50, to: 2.4 },
      { seconds: 8 },
    ]);
    const { result, explanation } = answer(capture);
    const truth = trueEnds(goodPilot);
    near(result.signalInterval.high!.value, truth.high);
    near(result.signalInterval.low!.value, truth.low);
    expect(result.window.high!.cause).toBe('signal');
    // 30 s of purge and the lighting, at five readings a second.
    expect(explanation.leftOut.gasShut).toBeGreaterThan(120);
    expect(explanation.leftOut.relighting).toBeGreaterThan(10);
    expect(result.warnings.map(({ code }) => code)).toContain('gas-shut');
  });

  it.each([0, 0.3, 0.6])('nor at the low end, over a fan-only pressure of %f inH2O', (fanOnly) => {
    const pilot = { ...goodPilot, fanOnly };
    const { result } = answer(record(pilot, [...slowSweep, { seconds: 20, to: 1.4 }, { seconds: 25, valve: 'shut' }]));
    near(result.signalInterval.low!.value, trueEnds(pilot).low);
    near(result.signalInterval.high!.value, trueEnds(pilot).high);
  });

  it('does not take a relit flame for a curve', () => {
    // Lost at 1.9 turning down; gas shut, purged, relit at 2.4 and swept up. The low end is where it was lost.
    const pilot = { ...goodPilot, lostBelow: 1.9 };
    const capture = record(pilot, [
      { seconds: 8 },
      { seconds: 20, to: 1.8 },
      { seconds: 6 },
      ...purgeAndRelight(2.4),
      { seconds: 60, to: 4.35 },
      { seconds: 4 },
      { seconds: 50, to: 2.4 },
      { seconds: 8 },
    ]);
    const { result } = answer(capture);
    expect(result.signalInterval.low!.value).toBeGreaterThan(1.8);
    expect(result.signalInterval.low!.value).toBeLessThan(2);
    expect(result.window.low!.cause).toBe('flame-lost');
    expect(result.setPoint!.value).toBeGreaterThan(1.9);
    near(result.signalInterval.high!.value, trueEnds(pilot).high);
  });

  it('leaves out gas that flows unlit for long after a loss, and names it', () => {
    const pilot = { ...goodPilot, lostBelow: 1.5 };
    const capture = record(pilot, [
      { seconds: 8 },
      { seconds: 30, to: 1.4 },
      { seconds: 60, to: 2.4 },
      ...purgeAndRelight(2.4),
      { seconds: 60, to: 4.35 },
      { seconds: 4 },
      { seconds: 50, to: 2.4 },
      { seconds: 8 },
    ]);
    const { result, explanation } = answer(capture);
    // A minute less the ten seconds in which the fall is seen, at five readings a second.
    expect(explanation.leftOut.unlit).toBeGreaterThan(200);
    near(result.signalInterval.low!.value, 1.5);
    expect(result.window.low!.cause).toBe('flame-lost');
  });

  it('takes no idle minutes before the gas and after it', () => {
    const idle = record(goodPilot, [
      { seconds: 60, valve: 'shut' },
      { seconds: 0.02, valve: 'open', spark: true },
      { seconds: 4, spark: true },
      { seconds: 8 },
      ...slowSweep,
      { seconds: 60, valve: 'shut' },
    ]);
    const { result, explanation } = answer(idle);
    near(result.signalInterval.low!.value, trueEnds(goodPilot).low);
    near(result.signalInterval.high!.value, trueEnds(goodPilot).high);
    // Two minutes at five readings a second.
    expect(explanation.leftOut.idle).toBeGreaterThan(550);
    expect(result.window.low!.cause).toBe('signal');
  });

  it('is provisional, and says so first, where a valve or a loss may have ended the sweep and nothing tells which', () => {
    // Turned down fast in the end, the recording stopped: the flame may have been lost, or the valve shut.
    const capture = record(goodPilot, turnedFastInTheEnd);
    const { result } = answer(capture);
    if (result.setPoint) expect(result.setPoint.provisional).toBe(true);
    expect(result.warnings[0]!.code).toBe('gas-unknown');
    // With the fan-only pressure entered it is known: gas flowed.
    expect(codesOf({ ...capture, setup: { fanOnlyPressure: { value: 0.1, unit: 'inH2O' } } })).not.toContain(
      'gas-unknown',
    );
  });

  it('knows a valve that shut before and after a marked sweep, without a fan-only pressure entered', () => {
    // A minute shut, lit, a sweep of 204 s from 84 s on, shut again: the marks enclose the sweep.
    const capture: Capture = {
      ...record(goodPilot, [
        { seconds: 60, valve: 'shut' },
        { seconds: 0.02, valve: 'open', spark: true },
        { seconds: 4, spark: true },
        { seconds: 20 },
        ...slowSweep,
        { seconds: 40, valve: 'shut' },
      ]),
      marks: [
        { elapsedS: 84, kind: 'sweep-start', text: '' },
        { elapsedS: 286, kind: 'sweep-end', text: '' },
      ],
    };
    expect(codesOf(capture)).toEqual(['no-light-offs']);
    expect(answer(capture).result.setPoint!.provisional).toBe(false);
  });

  it.each([1.15, 0.85, 0.5])(
    'is right or open where a slow turn down to %f inH2O ends it, no fan-only pressure known',
    (lowest) => {
      // Shut there, as a technician does who is done; whether a valve shut or the flame was lost, the low end is at 1.22 or open.
      const capture = record(goodPilot, [
        { seconds: 8 },
        { seconds: 60, to: 4.35 },
        { seconds: 4 },
        { seconds: 150, to: lowest },
        { seconds: 6 },
        { seconds: 20, valve: 'shut' },
      ]);
      const { result } = answer(capture);
      const { low } = result.signalInterval;
      const isRight = low?.bounded === true && Math.abs(low.value - trueEnds(goodPilot).low) < 0.06;
      expect(isRight || result.setPoint === undefined || result.setPoint.provisional).toBe(true);
      if (result.setPoint && !result.setPoint.provisional) {
        expect(result.setPoint.value).toBeGreaterThan(trueEnds(goodPilot).low);
        expect(result.setPoint.value).toBeLessThan(trueEnds(goodPilot).high);
      }
    },
  );
});
