import { describe, expect, it } from 'vitest';
import { fitCurve, forgetFits } from '../../shared/analysis/curve/fit-curve.ts';
import { keepLast } from '../../shared/numerics/kept-answers.ts';
import { prepareSweep } from '../../shared/analysis/sweep/prepare-sweep.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';

describe('the last answers of a function', () => {
  function counting<Input>(most = 2) {
    let computed = 0;
    const answerTo = keepLast(most, (_: Input) => (computed += 1));
    return { answerTo, computed: () => computed };
  }

  it('are given again for the same content, and only for that', () => {
    const { answerTo, computed } = counting<unknown>(20);
    const input = () => ({
      times: Float64Array.of(0, 1, Number.NaN),
      known: Uint8Array.of(1, 0),
      ends: [{ low: 2 }],
      top: 3,
    });
    const first = answerTo(input());
    expect(answerTo(input())).toBe(first);
    const others = [
      { ...input(), times: Float64Array.of(0, 1) },
      { ...input(), times: Float64Array.of(-0, 1, Number.NaN) },
      { ...input(), times: Float64Array.of(0, 1 + 2 ** -52, Number.NaN) },
      { ...input(), known: Float64Array.of(1, 0) },
      { ...input(), ends: [{ low: 2 }, { low: 2 }] },
      { ...input(), ends: { 0: { low: 2 } } },
      { ...input(), top: undefined },
      { times: input().times, known: input().known, ends: input().ends },
      { ...input(), more: undefined },
    ];
    for (const other of others) expect(answerTo(other)).not.toBe(first);
    expect(computed()).toBe(1 + others.length);
  });

  it('do not take one function, or what it cannot look into, for another', () => {
    const { answerTo, computed } = counting<unknown>(20);
    const shareAt = () => 1;
    for (const input of [{ shareAt }, { shareAt }, { shareAt: () => 1 }, new Map([[1, 2]]), new Map([[1, 3]])])
      answerTo(input);
    expect(computed()).toBe(4);
  });

  it('are dropped when others were asked for more lately, and when told so', () => {
    const { answerTo, computed } = counting<number>();
    for (const input of [1, 2, 1, 3, 1]) answerTo(input);
    expect(computed()).toBe(3);
    answerTo(2);
    expect(computed()).toBe(4);
    answerTo.forget();
    answerTo(2);
    expect(computed()).toBe(5);
  });
});

describe('the fit of a sweep', () => {
  const { capture } = drawSweep('two shoulders', 3);
  const fitOf = (of: Capture, setup: Setup) => {
    const prepared = prepareSweep(of, setup);
    if (!prepared.ok) throw new Error(prepared.fault.message);
    return fitCurve(prepared.value);
  };
  const trial = { pressure: 2.5, unit: 'inH2O', sparkDelayS: 0, lit: true } as const;

  it('is made once for the same readings, whatever trials and limits there are, and the same when made anew', () => {
    const fit = fitOf(capture, {});
    const more = { ...structuredClone(capture), trials: [trial] };
    expect(fitOf(more, { minimumSignal: { value: 1, unit: 'V' } })).toBe(fit);
    forgetFits();
    const anew = fitOf(capture, {});
    expect(anew).not.toBe(fit);
    expect(anew).toEqual(fit);
  });

  it('is another one for one reading less, another seed, another confidence', () => {
    const fit = fitOf(capture, {});
    expect(fitOf({ ...capture, readings: capture.readings.slice(0, -1) }, {})).not.toBe(fit);
    expect(fitOf(capture, { seed: 7 })).not.toBe(fit);
    expect(fitOf(capture, { confidence: 0.9 })).not.toBe(fit);
  });
});
