import { expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { judgeTrials, trialsInHindsight } from '../../benchmark/burner-state/judge-trials.ts';
import { drawVisit } from '../../benchmark/visit/visit.ts';

// The fan runs up in ten seconds before the first trial; gas that was shut leaks away slowly, and comes on again before it has. When it came
// on is the truth of the visit that was drawn.
it('a fan that runs up is no trial because of how gas leaks away later', () => {
  const visit = drawVisit('leaks out slowly', 2008);
  const { found, inventedAt } = judgeTrials(
    visit,
    trialsInHindsight(visit, trackCapture(visit.capture, visit.capture.setup)),
  );
  expect(inventedAt).toEqual([]);
  // The second comes before anybody can tell that gas was shut.
  expect(found).toBeGreaterThan(0);
});
