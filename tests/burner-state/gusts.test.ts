import { expect, it } from 'vitest';
import { run } from '../benchmark/burner-state/judge-visit.ts';

// Eleven minutes of a pilot that burns at rest while gusts take up to half of its flame for a second or two. Truth of the visits drawn:
// the flame is never lost.
it.each([2414, 2415])('gusts raise no alarm: %d', (seed) =>
  expect(run({ kind: 'steady with gusts', seed }).alarms).toEqual([]),
);
