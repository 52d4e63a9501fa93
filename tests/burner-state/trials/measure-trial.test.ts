import { describe, expect, it } from 'vitest';
import { measureTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import type { Reading, Role } from '../../../shared/model/reading.ts';

const of = (role: Role, unit: string, values: [number, number][]) =>
  values.map(([elapsedS, value]) => ({ role, unit, elapsedS, value, raw: '' })) as unknown as Reading[];
/** Gas at 10 s to 3 inH2O: two readings a second, by hand. */
const gas = of(
  'pilot_pressure',
  'inH2O',
  Array.from({ length: 20 }, (_, i): [number, number] => [7 + i / 2, 7 + i / 2 < 10 ? 0.2 : 3]),
);
const bounds = { fromS: 7, untilS: 17, provingSignal: 1.25, trialSeconds: 10 };
const measure = (...readings: Reading[][]) => measureTrial([gas, ...readings].flat(), bounds)!;

describe('a trial measured from its readings', () => {
  it('is not proved by a signal that was there before the gas, until that has fallen and come again', () => {
    const stuck = of('flame_signal', 'V', [[9, 4.6], [10, 4.6], [11, 4.6], [12, 4.6]]); // prettier-ignore
    expect(measure(stuck)).toMatchObject({ gasS: 10, lit: false });
    const again = of('flame_signal', 'V', [[9, 2], [10, 1.5], [11, 0.1], [12, 4.6]]); // prettier-ignore
    expect(measure(again)).toMatchObject({ provedS: 12, lit: true });
  });
  it('has its spark at the gas where that was on before, and not where it was over by then', () => {
    expect(measure(of('ignition', 'on', [[8, 1], [9.5, 1], [12, 0]])).sparkS).toBe(10); // prettier-ignore
    expect(measure(of('ignition', 'on', [[8, 1], [9.5, 0], [12, 0]]))).not.toHaveProperty('sparkS'); // prettier-ignore
    expect(measure(of('ignition', 'on', [[8, 1], [9.5, 0], [13, 1]])).sparkS).toBe(13); // prettier-ignore
  });
  it('tells a wired spark that was never on from none that is wired', () => {
    expect(measure(of('ignition', 'on', [[9, 0]])).isSparkWired).toBe(true);
    expect(measure().isSparkWired).toBe(false);
  });
});
