import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { PurgeClock } from '../../../renderer/light-off/PurgeClock.tsx';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { shutBurner } from './before-trial.ts';

vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/host-calls.ts', () => ({ useHostAction: () => ({ run: vi.fn() }) }));

const shown = (burner: Partial<BurnerView>) =>
  renderToStaticMarkup(createElement(PurgeClock, { burner: { ...shutBurner(20), ...burner }, lastLit: true }));

it('a purge runs only while gas is shut, the signal dark and air known to move', () => {
  expect(shown({})).not.toContain('not running');
  expect(shown({ air: { confirmed: false } })).toContain('Purge: not running');
  for (const flame of ['unknown', 'burning', 'lighting'] as const)
    expect(shown({ flame })).toContain('Purge: not running');
});
