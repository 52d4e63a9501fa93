import { describe, expect, it } from 'vitest';
import { type StateSpan, trackCapture } from '../../../shared/burner-state/track.ts';
import { captureOf, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

const spansOf = (story: Story): StateSpan[] => trackCapture(captureOf(readingsOf(story)), {}).spans;
const stateAt = (spans: readonly StateSpan[], s: number): StateSpan =>
  spans.find(({ from_s, to_s }) => from_s <= s && s < to_s)!;
const wordsIn = (
  spans: readonly StateSpan[],
  name: 'gas' | 'flame' | 'regulator' | 'phase',
  from: number,
  to: number,
) => new Set(spans.filter(({ from_s, to_s }) => to_s > from && from_s < to).map((span) => span[name]));

/** Gas from 10 s, flame from 11 s, both shut at 40 s: a plain visit. */
const plain: Story = {
  seconds: 60,
  pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 40)),
  signal: (t) => (t < 40.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40.3)),
};

describe('a plain visit with hindsight', () => {
  const spans = spansOf(plain);
  it('covers the capture without a gap', () => {
    expect(spans[0]!.from_s).toBeCloseTo(0, 6);
    expect(spans.at(-1)!.to_s).toBeCloseTo(60, 0);
    spans.slice(1).forEach((span, k) => expect(span.from_s).toBeCloseTo(spans[k]!.to_s, 6));
  });
  it.each([
    [5, 'shut', 'dark', 'before-gas'],
    [25, 'flowing', 'burning', 'held'],
    [50, 'shut', 'out', 'after'],
  ])('at %s s: gas %s, flame %s, phase %s', (s, gas, flame, phase) => {
    expect(stateAt(spans, s)).toMatchObject({ gas, flame, phase });
  });
  it('places the opening and the closing within half a second', () => {
    const opens = spans.find(({ gas }) => gas === 'opening')!;
    const closes = spans.find(({ gas }) => gas === 'closing')!;
    expect(Math.abs(opens.from_s - 10)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(closes.from_s - 40)).toBeLessThanOrEqual(0.5);
  });
  it('measures the fan-only pressure of 0.2 inH2O within a hundredth', () => {
    const { fanOnly } = trackCapture(captureOf(readingsOf(plain)), {});
    expect(fanOnly!.basis).toBe('measured');
    expect(Math.abs(fanOnly!.value - 0.2)).toBeLessThanOrEqual(0.01);
  });
  it('says the same whatever the zero of time', () => {
    const late = spansOf({ ...plain, startS: 1e5 });
    expect(late.map(({ gas, flame, regulator, phase }) => [gas, flame, regulator, phase])).toEqual(
      spans.map(({ gas, flame, regulator, phase }) => [gas, flame, regulator, phase]),
    );
    late.forEach((span, k) => expect(Math.abs(span.from_s - 1e5 - spans[k]!.from_s)).toBeLessThanOrEqual(0.11));
  });
});

describe('a falling pressure', () => {
  it('is a closing valve when it falls to the fan-only pressure in a second and the flame goes', () => {
    expect(wordsIn(spansOf(plain), 'regulator', 40.5, 60)).toEqual(new Set(['unknown']));
    expect(stateAt(spansOf(plain), 40.5).gas).toBe('closing');
  });
  it('is a regulator turned out when it falls over ten seconds and the flame burns on', () => {
    const spans = spansOf({
      seconds: 60,
      pressure: (t) => (t < 30 ? openedAt10(t) : Math.max(1.5, 3 - 0.15 * (t - 30))),
      signal: litAt11,
    });
    expect(wordsIn(spans, 'gas', 13, 60)).toEqual(new Set(['flowing']));
    expect(wordsIn(spans, 'regulator', 31.5, 38.5)).toEqual(new Set(['turning-out']));
    expect(stateAt(spans, 50).regulator).toBe('at-rest');
  });
});

describe('a rising pressure', () => {
  it('of a fan that runs up to 0.3 inH2O in eight seconds is no gas', () => {
    const spans = spansOf({ seconds: 60, pressure: (t) => towards(0, 0.3, 3, t, 20), signal: () => 0.02 });
    const gas = wordsIn(spans, 'gas', 0, 60);
    expect(gas.has('opening') || gas.has('flowing')).toBe(false);
  });
  it('is turning in while the flame burns, jerks with pauses of half a second included', () => {
    // 0.1 inH2O in a tenth of a second, every 0.6 s, from 30 s to 42 s.
    const spans = spansOf({
      seconds: 60,
      pressure: (t) => openedAt10(t) + 0.1 * Math.min(20, Math.max(0, Math.floor((t - 30) / 0.6 + 1e-9))),
      signal: litAt11,
    });
    expect(wordsIn(spans, 'regulator', 32, 41)).toEqual(new Set(['turning-in']));
    expect(stateAt(spans, 50).regulator).toBe('at-rest');
  });
});

describe('a detector that checks itself', () => {
  it('closes its shutter for 0.4 s every 8 s, and the flame burns all the time', () => {
    const signal = (t: number) => {
      const since = t > 20 ? (t - 20) % 8 : 8;
      return since < 0.4 ? towards(5, 0.02, 0.15, since, 0) : towards(0.4, litAt11(t), 0.15, since, 0.4);
    };
    const spans = spansOf({ seconds: 80, pressure: openedAt10, signal });
    expect(wordsIn(spans, 'flame', 16, 79)).toEqual(new Set(['burning']));
  });
});

describe('a meter in trouble', () => {
  it('repeats its top value because the amplifier clips: still burning', () => {
    const readings = readingsOf({ seconds: 60, pressure: openedAt10, signal: litAt11 }).map((each) =>
      each.role === 'flame_signal' ? { ...each, value: Math.min(4, each.value) } : each,
    );
    const { spans } = trackCapture(captureOf(readings), {});
    expect(wordsIn(spans, 'flame', 16, 59)).toEqual(new Set(['burning']));
  });
  it('repeats a value in the middle of its range, digit for digit: frozen, and no flame is claimed', () => {
    const readings = readingsOf({ seconds: 90, pressure: openedAt10, signal: litAt11 }).map((each) =>
      each.role === 'flame_signal' && each.elapsedS >= 12 ? { ...each, value: 4.111 } : each,
    );
    // Before it froze the meter had shown a full plateau, so that 4.111 V is no end of its range.
    const earlier = readings.map((each) =>
      each.role === 'flame_signal' && each.elapsedS < 9 ? { ...each, value: each.value + 5 } : each,
    );
    const { spans } = trackCapture(captureOf(earlier), {});
    expect(wordsIn(spans, 'flame', 14, 89)).toEqual(new Set(['unknown']));
  });
  it('is silent from the start, the signal meter: nobody knows whether gas that flows was proved', () => {
    const readings = readingsOf({ ...plain, signal: (t) => (t < 5 ? 0.02 : undefined) });
    const { spans } = trackCapture(captureOf(readings), {});
    expect(wordsIn(spans, 'phase', 12, 39)).toEqual(new Set(['unknown']));
  });
  it('goes silent, the manometer: gas unknown from its last reading on', () => {
    const spans = spansOf({ ...plain, seconds: 40, pressure: (t) => (t < 25 ? openedAt10(t) : undefined) });
    expect(wordsIn(spans, 'gas', 25.5, 39)).toEqual(new Set(['unknown']));
    expect(stateAt(spans, 24).gas).toBe('flowing');
  });
});

describe('air with hindsight', () => {
  /** A plain visit, then gas once more from 60 s to 62 s, so that what lies between is no end of the visit. */
  const twice = readingsOf({
    seconds: 90,
    pressure: (t) => (t < 60 || t > 62 ? plain.pressure(t) : towards(0.2, 3, 0.15, t, 60)),
    signal: plain.signal,
  });
  const fan = (inH2O: number) =>
    Array.from({ length: 90 }, (_, t) => ({
      role: 'fan_pressure' as const,
      unit: 'inH2O' as const,
      elapsedS: t,
      value: inH2O,
      raw: '',
    }));
  const phaseAt = (s: number, marks: [number, 'air-confirmed' | 'air-stopped'][], fanInH2O?: number) => {
    const capture = captureOf(fanInH2O === undefined ? twice : [...twice, ...fan(fanInH2O)]);
    capture.marks.push(...marks.map(([elapsedS, kind]) => ({ elapsedS, kind, text: '' })));
    return stateAt(trackCapture(capture, {}).spans, s).phase;
  };
  it('is not known without a fan pressure and without a word: a wait', () => {
    expect(phaseAt(50, [])).toBe('wait');
  });
  it('counts from the mark that confirms the fan until it is taken back', () => {
    const marks: [number, 'air-confirmed' | 'air-stopped'][] = [
      [45, 'air-confirmed'],
      [52, 'air-stopped'],
    ];
    expect([44, 48, 55].map((s) => phaseAt(s, marks))).toEqual(['wait', 'purge', 'wait']);
  });
  it('is what a wired fan pressure shows, whatever was confirmed', () => {
    expect(phaseAt(50, [[5, 'air-confirmed']], 0.01)).toBe('wait');
    expect(phaseAt(50, [], 2)).toBe('purge');
  });
});

// The flame goes out half a second after it took hold; the control sparks on, which lifts the signal by 0.4 V, until gas is shut at 20 s.
it('is told as lost while the control sparks on through the trial for ignition', () => {
  const spans = spansOf({
    seconds: 40,
    pressure: (t) => (t < 20 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 20)),
    signal: (t) => (t < 11.6 ? litAt11(t) : towards(3.2, t < 20 ? 0.42 : 0.02, 0.6, t, 11.6)),
  });
  expect(wordsIn(spans, 'flame', 14, 20)).toEqual(new Set(['lost']));
  expect(wordsIn(spans, 'flame', 22, 40)).toEqual(new Set(['out']));
});
