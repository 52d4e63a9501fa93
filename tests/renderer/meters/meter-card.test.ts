import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { MeterCard } from '../../../renderer/meters/MeterCard.tsx';
import type { BurnerView, MeterState } from '../../../shared/contract/api.ts';

const told = vi.hoisted(() => ({ burner: undefined as Partial<BurnerView> | undefined }));
vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/host-calls.ts', () => ({ useHostAction: () => ({ run: vi.fn() }) }));
vi.mock('../../../renderer/state/live/burner-state.ts', () => ({ useBurnerState: () => told.burner }));

const card = (ageMs = 100) => {
  const meter = {
    port: '/dev/ttyUSB0',
    profile: 'Manometer',
    status: 'live',
    linesPerSecond: 5,
    recentLines: [],
    latest: [{ role: 'pilot_pressure', unit: 'inH2O', value: 0.01, ageMs }],
  } as unknown as MeterState;
  return renderToStaticMarkup(createElement(MeterCard, { meter, onListen: vi.fn() }));
};

it('says of a manometer whose line is live that its hose may be off, or that it is frozen', () => {
  told.burner = undefined;
  expect(card()).not.toMatch(/Hose off|Frozen|No reading/u);
  told.burner = { pressureTrouble: { kind: 'off', forS: 19.3 } };
  expect(card()).toContain('Hose off? for 19 s');
  told.burner = { pressureTrouble: { kind: 'frozen', forS: 70 } };
  expect(card()).toContain('Frozen for');
  // The trouble of the other meter is not this one's.
  told.burner = { signalTrouble: { kind: 'frozen', forS: 70 } };
  expect(card()).not.toContain('Frozen');
});

it('says since when a meter has given no reading', () => {
  told.burner = undefined;
  expect(card(12_000)).toContain('No reading for 12 s');
});
