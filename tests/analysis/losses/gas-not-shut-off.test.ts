import { expect, it } from 'vitest';
import { answer, codesOf } from '../answer.ts';
import { shutInTheEnd } from '../warnings/warning-cases.ts';

it('a pressure that stands above that of the fan after the valve closed is told, with both pressures', () => {
  const { warnings } = answer(shutInTheEnd(0.12)).result;
  const told = warnings.find(({ code }) => code === 'gas-not-shut-off');
  expect(told?.message).toContain('stood at 0.32 inH2O');
  expect(told?.message).toContain('not at the fan-only 0.20 inH2O');
});

it('a valve that shuts is not said to leak', () => {
  expect(codesOf(shutInTheEnd(0))).not.toContain('gas-not-shut-off');
});
