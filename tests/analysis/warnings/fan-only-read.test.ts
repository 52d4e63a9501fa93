import { describe, expect, it } from 'vitest';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record, sweepDownAndUp } from '../burner-by-hand.ts';

/** A sweep and two light-offs, gas shut for 20 s before each; the manometer rests at `shut` inH2O then, where 0.2 was entered. */
function said(shut: number) {
  const lightOff: Act[] = [
    { seconds: 20, valve: 'shut' },
    { seconds: 0.02, valve: 'open', spark: true },
    { seconds: 6, spark: true },
  ];
  const setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const } };
  const capture = record({ ...goodPilot, fanOnly: shut, setup }, [
    ...sweepDownAndUp,
    ...lightOff,
    ...lightOff,
    { seconds: 20, valve: 'shut' },
  ]);
  return answer(capture).result.warnings.find(({ code }) => questions.includes(code));
}

/** Either asks about what the manometer shows with the valve shut: as another pressure than was entered, or as gas that still flows. */
const questions = ['fan-only-not-as-read', 'gas-not-shut-off'];

describe('an entered fan-only pressure of 0.20 inH2O', () => {
  it.each([0.17, 0.2, 0.25])('is believed where shut gas rests at %d', (shut) => {
    expect(said(shut)).toBeUndefined();
  });
  it.each([0.3, 0.35, 0.45])(
    'is questioned where shut gas never rests lower than %d, as a leak or a zero that has shifted',
    (shut) => {
      expect(said(shut)!.message).toContain(`${shut.toFixed(2)} inH2O`);
      expect(said(shut)!.message).toMatch(/leak/u);
    },
  );
  it('is believed where it was read once, and the fan ran faster otherwise', () => {
    const setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const } };
    const plain = record({ ...goodPilot, fanOnly: 0.2, setup }, [
      ...sweepDownAndUp,
      { seconds: 60, valve: 'shut' },
      { seconds: 0.02, valve: 'open', spark: true },
      { seconds: 6, spark: true },
      { seconds: 20, valve: 'shut' },
    ]);
    const sweptS = sweepDownAndUp.reduce((sum, { seconds }) => sum + seconds, 0);
    const purging = (t: number) => t > sweptS + 10 && t < sweptS + 50;
    const readings = plain.readings.map((each) =>
      each.role === 'pilot_pressure' && purging(each.elapsedS) ? { ...each, value: each.value + 0.3 } : each,
    );
    const { warnings } = answer({ ...plain, readings }).result;
    expect(warnings.map(({ code }) => code)).not.toContain('fan-only-not-as-read');
  });
});
