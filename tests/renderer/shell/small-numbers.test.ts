import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { SmallNumbers } from '../../../renderer/shell/TopStrip.tsx';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { held } from '../held-pilot.ts';

vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));

const reading = { flag: undefined, ageMs: 100, stale: false, port: 'one' };
const shown = (burner: Partial<BurnerView>) =>
  renderToStaticMarkup(
    createElement(SmallNumbers, {
      meters: {
        pressure: { ...reading, value: 0, unit: 'inH2O' as const },
        signal: { ...reading, value: 4.6, unit: 'V' as const },
      },
      burner: { ...held, ...burner },
    }),
  );

it('the numbers at the top say what is wrong with them, as the large ones do', () => {
  expect(shown({})).toContain('Pressure, inH2O');
  const off = shown({ pressureTrouble: { kind: 'off', forS: 0 } });
  expect(off).toContain('Hose off?');
  expect(off).toContain('0.00');
  expect(shown({ signalTrouble: { kind: 'frozen', forS: 12 } })).toContain('Frozen for');
});
