import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import { TrialCard } from '../../../renderer/light-off/trial-list/TrialCard.tsx';
import { isPurgeShort } from '../../../shared/model/trials/valid-trials.ts';
import type { StoredTrial } from '../../../shared/contract/api.ts';

const shown = (more: Partial<StoredTrial>, replacedBy?: number): string => {
  const trial = { id: 1, pressure: 2.5, unit: 'inH2O', sparkDelayS: 0, lit: true, ...more } as StoredTrial;
  const acts = { onConfirm: () => {}, onChange: () => {} };
  return renderToStaticMarkup(
    createElement(TrialCard, {
      trial,
      number: 1,
      replacedBy,
      unit: 'inH2O',
      trialSeconds: 10,
      isPurgeShort: isPurgeShort(trial, { purgeSeconds: 8 }),
      ...acts,
    }),
  );
};

it('a trial says beside its result that its purge was short, where the purge is known and the entry counts', () => {
  expect(shown({ purgeS: 3 })).toContain('Short purge');
  expect(shown({ purgeS: 0 })).toContain('Short purge');
  expect(shown({ purgeS: 8 })).not.toContain('Short purge');
  expect(shown({})).not.toContain('Short purge');
  expect(shown({ purgeS: 3 }, 2)).not.toContain('Short purge');
});
