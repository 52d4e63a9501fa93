import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { lagLimits } from '../../../shared/analysis/sweep/lag-limits.ts';
import { longestLag, usualLagLimits } from '../../../shared/analysis/sweep/series/initial-estimates.ts';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import type { Series } from '../../../shared/analysis/sweep/series/series.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Role } from '../../../shared/model/reading.ts';
import { run } from '../../benchmark/visit-answers/judge-answer.ts';
import { drawSimulated, visitKinds } from '../../benchmark/visit/visit.ts';
import { captureOf, readingsOf, type Story, towards } from '../../burner-state/story.ts';

function seriesOf({ readings }: Capture, role: Role): Series {
  const own = readings.filter((reading) => reading.role === role && Number.isFinite(reading.value));
  own.sort((a, b) => a.elapsedS - b.elapsedS);
  return {
    time: Float64Array.from(own, ({ elapsedS }) => elapsedS),
    value: Float64Array.from(own, ({ value }) => value),
  };
}
const limitsOf = (capture: Capture) =>
  lagLimits(
    trackCapture(capture, capture.setup).spans,
    seriesOf(capture, 'pilot_pressure'),
    seriesOf(capture, 'flame_signal'),
  );

/** Gas from 10 to 40 s, lit `ignitionS` after it came on; a detector of this dead time and first-order lag, whose walls glow on for `glowS`. */
const visit = (deadS: number, lagS: number, { ignitionS = 0.2, glowS = 0 } = {}): Story => ({
  seconds: 60,
  pressure: (t) => (t < 40 ? towards(0.2, 3, 0.15, t, 10) : towards(3, 0.2, 0.15, t, 40)),
  signal: (t) =>
    t < 40 + deadS + glowS
      ? towards(0.02, 5, lagS, t, 10 + ignitionS + deadS)
      : towards(5, 0.02, lagS, t, 40 + deadS + glowS),
});

describe('the lags that light-offs and shut gas leave room for', () => {
  it.each([
    [0.2, 0.3],
    [0.3, 1],
    [0.5, 2.5],
  ])('dead time %s s and lag %s s together are within, with less than two seconds to spare', (deadS, lagS) => {
    const { shortestS, longestS } = limitsOf(captureOf(readingsOf(visit(deadS, lagS))));
    expect(longestS).toBeGreaterThanOrEqual(deadS + lagS);
    expect(longestS).toBeLessThan(deadS + lagS + 2);
    // A manometer that follows a valve within two readings does not lag by a second.
    expect(shortestS).toBeGreaterThanOrEqual(-1);
  });
  it('come from the shut gas where the spark was late, and from the light-off where the walls glow', () => {
    expect(limitsOf(captureOf(readingsOf(visit(0.3, 1, { ignitionS: 4 })))).longestS).toBeLessThan(3);
    expect(limitsOf(captureOf(readingsOf(visit(0.3, 1, { glowS: 4 })))).longestS).toBeLessThan(3);
  });
  it('leave room for a signal that comes before the pressure of a slow manometer', () => {
    const quick = visit(0.1, 0.2);
    const damped: Story = {
      ...quick,
      pressure: (t) => (t < 40 ? towards(0.2, 3, 2, t, 10) : towards(3, 0.2, 2, t, 40)),
    };
    expect(limitsOf(captureOf(readingsOf(damped))).shortestS).toBeLessThanOrEqual(0.3 - 2);
  });
  it('are the usual ones where gas was never seen to come or go', () => {
    const lit = captureOf(readingsOf({ seconds: 60, pressure: () => 3, signal: () => 5 }));
    expect(limitsOf(lit)).toBe(usualLagLimits);
  });

  // Dead time and lags are those that the generator of whole visits was given; its hands, valves and sparks are not ours.
  it.each(visitKinds)('hold the lag in a visit of each kind of the independent generator: %s', (kind) => {
    const { simulated, capture } = drawSimulated(kind, 7001);
    const { deadS, lagS } = simulated.facts.detector;
    const lag = deadS + lagS - simulated.instruments.manometer.lagS;
    const { shortestS, longestS } = limitsOf(capture);
    expect(longestS).toBeGreaterThanOrEqual(Math.min(longestLag, lag));
    expect(shortestS).toBeLessThanOrEqual(lag);
  });
});

// Blown out by a draft as the sweep began: with a lag of four seconds, of one in truth, the high end was at 3.5 of 3.8 inH2O.
it('a loss that a lag of some seconds explains as well does not move the ends', () => {
  const { judged } = run({ kind: 'blown out while at rest', seed: 4009 });
  expect([judged.low?.held, judged.high?.held]).toEqual([true, true]);
});

// Two shoulders and an amplifier at its maximum between them; once both became losses of the flame, the ends 0.2 inH2O too far out.
it('a saturated amplifier does not hide the shoulders', () => {
  const { capture, truth } = simulateVisit('saturated', 5);
  const found = analyze(capture);
  if (!found.ok) throw new Error(found.fault.message);
  const { low, high } = found.value.result.signalInterval;
  expect(Math.abs(low!.value - truth.lowEdge)).toBeLessThan(0.05);
  expect(Math.abs(high!.value - truth.highEdge)).toBeLessThan(0.05);
});
