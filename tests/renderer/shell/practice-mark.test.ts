import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { CaptureRow } from '../../../renderer/earlier/CaptureRow.tsx';
import { TopStrip } from '../../../renderer/shell/TopStrip.tsx';
import type { CaptureSummary, CaptureView } from '../../../shared/contract/api.ts';

// There is no host here: only what the page shows of a capture is tested.
vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/live/recording.ts', () => ({ useRecording: () => undefined }));

const summary = (id: string, name: string): CaptureSummary => ({
  id,
  startedAt: '2026-11-25T09:00:00+01:00',
  burner: { site: 'North mill', name },
  status: 'complete',
  lines: 1,
  readings: 1,
  trials: 0,
  durationS: 60,
  units: {},
});

it('the list of captures marks the practice ones and no other', () => {
  const captures = [{ ...summary('a', 'Invented burner'), practice: true as const }, summary('b', 'Boiler 2')];
  const [practice, real] = captures.map((capture, index) => {
    const nothing = () => {};
    const acts = { measureRow: nothing, onOpen: nothing, onContinue: nothing, onComplete: nothing };
    return renderToStaticMarkup(createElement(CaptureRow, { capture, index, ...acts }));
  });
  expect(practice).toContain('Invented burner');
  expect(practice).toContain('PRACTICE');
  expect(real).toContain('Boiler 2');
  expect(real).not.toContain('PRACTICE');
});

it('the strip over all steps marks an open capture that is practice, and no other', () => {
  const stripOf = (capture: CaptureSummary) => {
    const view: CaptureView = { ...capture, setup: {}, meters: [], marks: [], trials: [], notes: [] };
    const progress = {
      burnerNamed: true,
      burner: undefined,
      pressureLive: false,
      signalLive: false,
      capture: view,
      analysis: undefined,
      isCalculating: false,
    };
    const meters = { meters: [], pressure: undefined, signal: undefined };
    return renderToStaticMarkup(createElement(TopStrip, { progress, meters }));
  };
  expect(stripOf({ ...summary('a', 'Boiler 2'), practice: true })).toContain('PRACTICE');
  expect(stripOf(summary('b', 'Boiler 2'))).not.toContain('PRACTICE');
});
