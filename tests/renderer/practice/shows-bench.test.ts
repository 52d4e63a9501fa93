import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { showsBench } from '../../../renderer/practice/shows-bench.ts';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { practicePorts } from '../../../shared/practice/bench-meters.ts';
import { beginTrial, shutBurner } from '../light-off/before-trial.ts';

const told = vi.hoisted(() => ({ burner: undefined as BurnerView | undefined }));
vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/host-calls.ts', () => ({ useHostAction: () => ({ run: vi.fn() }) }));
vi.mock('../../../renderer/state/live/meters.ts', () => ({
  useMeters: () => ({ signal: {}, pressure: {}, meters: [] }),
}));
vi.mock('../../../renderer/light-off/use-live-burner.ts', () => ({ useLiveBurner: () => told.burner }));

const practice = { port: practicePorts.pressure.port };
const real = { port: '/dev/ttyUSB0' };

it('the practice bench stands beside no real meter, no alarm of a real burner, and nothing that is not known yet', () => {
  expect(showsBench([], false)).toBe(true);
  expect(showsBench([practice], true)).toBe(true);
  expect(showsBench([real], false)).toBe(false);
  // After a restart no meter is connected, and the alarm is of the recording that was cut off.
  expect(showsBench([], true)).toBe(false);
  expect(showsBench(undefined, false)).toBe(false);
});

it('a page without its host promises no trial by itself', () => {
  const client = new QueryClient();
  const shown = () => renderToStaticMarkup(createElement(QueryClientProvider, { client }, beginTrial()));
  told.burner = shutBurner();
  expect(shown()).toContain('the meters record it');
  told.burner = undefined;
  expect(shown()).not.toContain('the meters record it');
});
