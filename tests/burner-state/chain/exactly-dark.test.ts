import { expect, it } from 'vitest';
import { initialLevels } from '../../../shared/burner-state/chain/levels.ts';
import { signalLikelihood } from '../../../shared/burner-state/chain/signal-likelihood.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { at, captureOf, follow, openedAt10, readingsOf, towards } from '../story.ts';

it('a reading exactly at dark after another has a density for every pattern and lag', () => {
  const levels = { ...initialLevels('uA'), dark: 0 };
  const step = {
    value: 0,
    before: 0,
    sinceS: 0.1,
    changeBefore: 0,
    beforeS: 0.1,
    rate: 0,
    pressureRate: 0,
    pressureMoves: false,
  };
  expect([...signalLikelihood(step, levels)].filter((density) => !(density >= 0))).toEqual([]);
});

// A microammeter of one digit that rests at 0.0 without a flame; blown out at 40 s, gas left on, shut at 60 s.
it('a flame that is lost is told where the signal stands at exactly 0', () => {
  const digit = (value: number) => Math.round(10 * value) / 10;
  const signal = (t: number) => digit(t < 40 ? towards(0, 1, 0.1, t, 11) : towards(1, 0, 0.1, t, 40));
  const pressure = (t: number) => (t < 60 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 60));
  const readings = readingsOf({ seconds: 90, pressure, signal: () => undefined });
  for (let i = 0; i < 900; i += 1)
    readings.push({ role: 'flame_signal', unit: 'uA', elapsedS: i / 10, value: signal(i / 10), raw: '' });
  readings.sort((a, b) => a.elapsedS - b.elapsedS);
  const told = follow(readings, 90, undefined, { signalUnit: 'uA', trialSeconds: 10 });
  expect(at(told, 35).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
  expect(at(told, 43).alarm).toBe('flame-lost');
  expect(at(told, 85).now.moment.gas).toBe('shut');
  const { spans } = trackCapture(captureOf(readings), {});
  expect(spans.find(({ from_s, to_s }) => from_s <= 50 && to_s > 50)).toMatchObject({ gas: 'flowing', flame: 'lost' });
});
