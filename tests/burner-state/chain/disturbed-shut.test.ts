import { expect, it } from 'vitest';
import { followLive } from '../../benchmark/burner-state/follow-live.ts';
import { judgeAlarms } from '../../benchmark/burner-state/judge-alarms.ts';
import { drawVisit } from '../../benchmark/visit/visit.ts';

// A signal line noisier than most while gas is shut at a fan-only pressure of 0.37 inH2O that nobody entered. Whether gas flowed is the truth of
// the visit that was drawn.
it('a signal that is disturbed while gas is shut is no spark over flowing gas', () => {
  const visit = drawVisit('spark seen by the detector', 9996);
  const { alarms } = judgeAlarms(visit, followLive(visit).alarms);
  expect(alarms.filter(({ danger }) => !danger)).toEqual([]);
});
