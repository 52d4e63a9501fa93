import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { Banners } from '../../../renderer/shell/Banners.tsx';
import type { CaptureSummary } from '../../../shared/contract/api.ts';

const told = vi.hoisted(() => ({ unfinished: [] as CaptureSummary[] }));
vi.mock('../../../renderer/state/connection.ts', () => ({
  useConnection: () => 'connected',
  useRefusal: () => undefined,
}));
vi.mock('../../../renderer/state/host-calls.ts', () => ({ useHostAction: () => ({ run: vi.fn() }) }));
vi.mock('../../../renderer/state/open-capture.ts', () => ({ useOpenCapture: () => ({ open: vi.fn() }) }));
vi.mock('../../../renderer/state/feeds.ts', () => ({
  useFeed: (name: string) => (name === 'captures.changes' ? { version: 1, unfinished: told.unfinished } : undefined),
}));

const cut: CaptureSummary = {
  id: 'c',
  startedAt: '2026-05-05T00:00:00Z',
  status: 'interrupted',
  lines: 0,
  readings: 9,
  trials: 0,
  durationS: 60,
  units: {},
};
const shown = (capture: CaptureSummary) => {
  told.unfinished = [capture];
  return renderToStaticMarkup(createElement(Banners));
};

it('an interrupted capture is named with its date, and not with that of its import where its file has none', () => {
  expect(shown(cut)).toContain('An unnamed burner, 2026-05-05 00:00:00 (UTC)');
  expect(shown({ ...cut, startUnknown: true })).toContain('An unnamed burner, date not stated,');
  expect(shown({ ...cut, startUnknown: true })).not.toContain('2026');
});
