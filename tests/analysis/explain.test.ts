import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';

const explained = (capture: Capture) => {
  const outcome = analyze(capture);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return AnalysisDetail.parse(outcome.value).explanation;
};

// Invented sweeps: what was put in is known.
describe('the explanation of a result', () => {
  it('counts the spikes, wrong times and flagged readings that were put in', () => {
    const { capture } = drawSweep('two shoulders', 5);
    const plain = explained(capture);
    expect(plain.leftOut).toEqual({
      flagged: 0,
      spikes: 0,
      wrongTime: 0,
      selfCheck: 0,
      idle: 0,
      gasShut: 0,
      relighting: 0,
      unlit: 0,
      meterTrouble: 0,
      dropOut: 0,
      pressureUnknown: 0,
    });
    const signals = capture.readings.filter((reading) => reading.role === 'flame_signal');
    const at = (share: number) => signals[Math.round(share * signals.length)]!;
    // On the plateau, far from each other and from the ends of the sweep.
    const spikes = new Map([0.02, 0.05, 0.5].map((share) => [at(share), { ...at(share), value: 9 }]));
    const flagged = { ...at(0.6), value: Number.NaN, flag: 'overload' as const, raw: 'OL' };
    const readings = [
      ...capture.readings.map((reading) => spikes.get(reading) ?? reading),
      flagged,
      { ...at(0.5), elapsedS: 1e9 },
    ];
    expect(explained({ ...capture, readings }).leftOut).toMatchObject({ flagged: 1, spikes: 3, wrongTime: 1 });
  }, 30_000);

  it('gives the self-check that was put in: its period, its width, and every pulse that a lit flame could show', () => {
    const { capture, facts, durationS } = drawSweep('self-check', 2);
    const { selfCheck, leftOut } = explained(capture);
    // Known to a hundredth of the period, since it is averaged over a dozen pulses; a pulse to one and a half readings.
    expect(Math.abs(selfCheck!.periodS - facts.selfCheck!.periodS)).toBeLessThan(0.01 * facts.selfCheck!.periodS);
    expect(Math.abs(selfCheck!.widthS - facts.selfCheck!.widthS)).toBeLessThanOrEqual(1.5 / facts.signalHz);
    expect(selfCheck!.pulses).toBeLessThanOrEqual(durationS / facts.selfCheck!.periodS + 1);
    expect(leftOut.selfCheck).toBeGreaterThanOrEqual(selfCheck!.pulses);
  });

  it('gives the noise that was put in, and that a plain curve follows the readings', () => {
    for (const seed of [1, 2, 3]) {
      const { capture, facts } = drawSweep('two shoulders', seed);
      const found = explained(capture);
      expect(found.model).toContain('two shoulders');
      expect(found.converged).toBe(true);
      expect(found.stop).not.toContain('better curve');
      // White noise is everywhere, flicker on the shoulders only.
      expect(found.residualSd).toBeGreaterThan(0.8 * facts.white);
      expect(found.residualSd).toBeLessThan(facts.white + facts.flicker);
      expect(found.independent).toBeLessThanOrEqual(found.fitted);
      expect(found.misfit).toBeLessThan(0.05);
    }
  }, 30_000);

  it('counts fewer independent readings where neighbors are correlated', () => {
    const { capture } = drawSweep('two shoulders', 4);
    // Each reading of the signal twice more, a moment later: three times the readings, no more knowledge.
    const readings = capture.readings.flatMap((reading) =>
      reading.role === 'flame_signal'
        ? [0, 0.02, 0.04].map((later) => ({ ...reading, elapsedS: reading.elapsedS + later }))
        : [reading],
    );
    const [once, thrice] = [explained(capture), explained({ ...capture, readings })];
    expect(thrice.fitted).toBeGreaterThan(2.9 * once.fitted);
    expect(thrice.independent / thrice.fitted).toBeLessThan((0.5 * once.independent) / once.fitted);
  }, 30_000);
});

describe('a sweep in one direction', () => {
  it('is reported although the hand trembles, and a sweep both ways is not', () => {
    const reported = (kind: 'down only' | 'up only' | 'two shoulders', seed: number) => {
      const outcome = analyze(drawSweep(kind, seed).capture);
      if (!outcome.ok) throw new Error(outcome.fault.message);
      return outcome.value.result.warnings.some(({ code }) => code === 'one-direction');
    };
    for (const seed of [1, 2, 3]) {
      expect(reported('down only', seed)).toBe(true);
      expect(reported('up only', seed)).toBe(true);
      expect(reported('two shoulders', seed)).toBe(false);
    }
  }, 60_000);
});
