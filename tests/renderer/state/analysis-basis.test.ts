import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import { useAnalysis, useKnownAnalysis } from '../../../renderer/state/analysis.ts';
import { type AnalyzedRecord, analysisBasis, reportBasis } from '../../../renderer/state/analysis-basis.ts';
import type { MarkKind } from '../../../shared/model/capture.ts';

vi.mock('../../../renderer/state/connection.ts', () => ({}));

const mark = (kind: MarkKind, elapsedS: number) => ({ kind, elapsedS, text: '' });
const trial = { id: 1, pressure: 2.78, unit: 'inH2O' as const, sparkDelayS: 0, lit: true };
const visit: AnalyzedRecord = {
  id: 'c',
  status: 'recording',
  setup: {},
  marks: [mark('sweep-start', 10), mark('sweep-end', 90)],
  trials: [trial],
};

/** What can happen between one look at the set point and the next. */
const changes: Record<string, AnalyzedRecord> = {
  'a trial made': { ...visit, trials: [trial, { ...trial, id: 2, lit: false }] },
  'a trial discarded': { ...visit, trials: [trial, { ...trial, id: 2, status: 'void', corrects: 1 }] },
  'a trial corrected': { ...visit, trials: [trial, { ...trial, id: 2, lit: false, corrects: 1 }] },
  'a sweep begun': { ...visit, marks: [...visit.marks, mark('sweep-start', 120)] },
  'a sweep discarded': { ...visit, marks: [...visit.marks, mark('sweep-void', 120)] },
  'the flame lost': { ...visit, marks: [...visit.marks, mark('flame-lost', 120)] },
  'the setup changed': { ...visit, setup: { minimumSignal: { value: 1.25, unit: 'V' } } },
  'the visit finished': { ...visit, status: 'complete' },
};

/** What a page that has calculated `visit` shows of `record`, by either way to ask for it. */
function shownOf(record: AnalyzedRecord): string[] {
  const client = new QueryClient();
  client.setQueryData(['analysis.run', visit.id, analysisBasis(visit)], 'found');
  const Known = () => (useKnownAnalysis(record).analysis ? 'found' : 'none');
  const Shown = () => (useAnalysis(record).analysis ? 'found' : 'none');
  return [Known, Shown].map((Part) =>
    renderToStaticMarkup(createElement(QueryClientProvider, { client }, createElement(Part))),
  );
}

it.each(Object.entries(changes))('no set point or decision is shown that was calculated before %s', (_what, record) =>
  expect(shownOf(record)).toEqual(['none', 'none']),
);

it('notes, gaps and new objects with the same content leave a result in view', () => {
  const same = { ...structuredClone(visit), marks: [...visit.marks, mark('note', 100), mark('gap', 110)] };
  expect(shownOf(same)).toEqual(['found', 'found']);
});

it('keeps what was calculated while a purge comes and goes between two trials', () => {
  const purged = { ...visit, marks: [...visit.marks, mark('air-confirmed', 120), mark('air-stopped', 130)] };
  expect(shownOf(purged)).toEqual(['found', 'found']);
  // The time line of a report says what was a purge.
  expect(reportBasis(purged)).not.toBe(reportBasis(visit));
});
