import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it, vi } from 'vitest';
import type { BurnerView } from '../../../shared/contract/api.ts';
import type { CaptureAdvice } from '../../../shared/model/results/advice.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import { openEnds } from '../../../shared/model/trials/unjudged-trials.ts';
import { beginTrial, shutBurner } from './before-trial.ts';

const told = vi.hoisted(() => ({
  advice: undefined as Partial<CaptureAdvice> | undefined,
  isPending: false,
  analysis: undefined as { result: { asLeft: { decision: string } } } | undefined,
  purgedS: 60,
  burner: {} as Partial<BurnerView>,
}));
vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/host-calls.ts', () => ({ useHostAction: () => ({ run: vi.fn() }) }));
vi.mock('../../../renderer/state/live/meters.ts', () => ({
  useMeters: () => ({ signal: {}, pressure: {}, meters: [] }),
}));
vi.mock('../../../renderer/light-off/use-live-burner.ts', () => ({
  useLiveBurner: () => ({ ...shutBurner(told.purgedS), ...told.burner }),
}));
vi.mock('../../../renderer/state/analysis.ts', () => ({ useKnownAnalysis: () => ({ analysis: told.analysis }) }));
vi.mock('../../../renderer/light-off/use-advice.ts', () => ({
  useAdviceState: () => ({ advice: told.advice, isPending: told.isPending }),
}));

const shown = (advice: Partial<CaptureAdvice> | undefined) => {
  told.advice = advice;
  return renderToStaticMarkup(beginTrial());
};

it('calls a trial ready only where one is advised, or nobody knows yet', () => {
  expect(shown(undefined)).toContain('Ready for the next trial');
  const next = { pressure: 2.4, sparkDelay_s: 0, reason: '' };
  const advised = shown({ next, pressureUnit: 'inH2O' });
  expect(advised).toContain('Ready for the next trial');
  expect(advised).toMatch(/Next trial: (?:<!-- -->)?2\.40 inH2O/u);
  const stopped = shown({ next: null, pressureUnit: 'inH2O', plan: { met: true, counts: '' } });
  expect(stopped).toContain('No further trial is advised.');
  expect(stopped).not.toContain('Ready for the next trial');
});

it('says why no trial is advised where the plan asks for more', () => {
  const reason = 'Enter the limits before any trial.';
  const short = shown({ next: null, reason, pressureUnit: 'inH2O', plan: { met: false, counts: '' } });
  expect(short).toMatch(/no trial is advised:/u);
  expect(short).toContain(reason);
  expect(short).not.toMatch(/No further trial|Ready for the next trial/u);
});

it('calls no trial ready while it is still being worked out whether one is advised', () => {
  told.isPending = true;
  expect(shown(undefined)).not.toContain('Ready for the next trial');
  told.isPending = false;
  expect(shown(undefined)).toContain('Ready for the next trial');
});

it('asks for a purge before the first trial, where none was seen, although the host may not refuse it', () => {
  told.purgedS = 59;
  const unpurged = shown(undefined);
  expect(unpurged).toContain('Purge first: none is on record.');
  expect(unpurged).not.toContain('Ready for the next trial');
  expect(unpurged).not.toContain('disabled');
  told.purgedS = 60;
  expect(shown(undefined)).toContain('Ready for the next trial');
});

it('asks for a delayed spark to be announced before it calls the trial ready', () => {
  told.advice = { next: { pressure: 2.4, sparkDelay_s: 5, reason: '' }, pressureUnit: 'inH2O' };
  const advised = renderToStaticMarkup(beginTrial());
  expect(advised).toContain('Announce the delayed spark first.');
  expect(advised).not.toContain('Ready for the next trial');
  expect(renderToStaticMarkup(beginTrial(5))).not.toContain('Announce the delayed spark first.');
});

it('calls the next trial what was announced, where another was advised', () => {
  told.advice = { next: { pressure: 2.4, sparkDelay_s: 0, reason: '' }, pressureUnit: 'inH2O' };
  const announced = renderToStaticMarkup(beginTrial(5));
  expect(announced).toContain('Next trial: spark 5.0 s after gas, as announced');
  expect(announced).toContain('Advised: 2.40 inH2O, spark with gas.');
  told.advice = { next: { pressure: 2.4, sparkDelay_s: 5, reason: '' }, pressureUnit: 'inH2O' };
  const same = renderToStaticMarkup(beginTrial(5));
  expect(same).toContain('Next trial: 2.40 inH2O, spark 5.0 s after gas');
  expect(same).not.toContain('as announced');
});

it('calls no trial ready while a signal stands over shut gas', () => {
  told.advice = undefined;
  told.burner = { flame: 'unknown' };
  const bright = renderToStaticMarkup(beginTrial());
  expect(bright).toContain('Signal without gas: it must be dark first.');
  expect(bright).not.toContain('Ready for the next trial');
  expect(bright).toMatch(/disabled[^>]*>Begin by hand/u);
  told.burner = {};
  expect(renderToStaticMarkup(beginTrial())).toContain('Ready for the next trial');
});

it('counts no purge down beside a manometer that may be off: a flame may burn', () => {
  told.burner = { gas: 'unknown', flame: 'burning', pressureTrouble: { kind: 'off', forS: 8 } };
  const off = renderToStaticMarkup(beginTrial(undefined, 12));
  expect(off).toContain('gas may be flowing');
  expect(off).not.toContain('The next trial can begin');
  expect(off).not.toContain('Purge: 12 s left');
  // Without any meter the time since the last trial is all there is.
  told.burner = {};
  expect(renderToStaticMarkup(beginTrial(undefined, 12))).toContain('Purge: 12 s left');
});

it('asks for the result of a trial that nobody has entered before it leads to another', () => {
  told.advice = { next: { pressure: 2.4, sparkDelay_s: 0, reason: '' }, pressureUnit: 'inH2O' };
  const marks: Mark[] = [
    { elapsedS: 10, kind: 'trial-start', text: '' },
    { elapsedS: 20, kind: 'trial-end', text: openEnds.noResult },
  ];
  const asked = renderToStaticMarkup(beginTrial(undefined, 0, marks));
  expect(asked).toContain('Enter how the last trial ended.');
  expect(asked).not.toMatch(/Ready for the next trial|Next trial: /u);
});

it('leads to no further trial once the pressure as left passes', () => {
  told.advice = { next: { pressure: 2.4, sparkDelay_s: 0, reason: '' }, pressureUnit: 'inH2O' };
  told.analysis = { result: { asLeft: { decision: 'pass' } } };
  const marks: Mark[] = [{ elapsedS: 90, kind: 'as-left', text: '' }];
  const passed = renderToStaticMarkup(beginTrial(undefined, 0, marks));
  expect(passed).toContain('As-left passes: no further trial is needed.');
  expect(passed).not.toMatch(/Ready for the next trial|Next trial: /u);
  told.analysis = { result: { asLeft: { decision: 'conditional-pass' } } };
  expect(renderToStaticMarkup(beginTrial(undefined, 0, marks))).toContain('Next trial: ');
});
