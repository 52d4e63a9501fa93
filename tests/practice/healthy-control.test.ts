import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import type { BenchAction } from '../../shared/practice/bench-controls.ts';
import { playBench } from './bench-story.ts';

/** What a technician may do to a sound burner with a sound control, at any moment: everything but the faults. */
const deed: fc.Arbitrary<BenchAction> = fc.oneof(
  fc.record({ turns: fc.double({ min: 0, max: 8, noNaN: true }) }),
  fc.record({ callForHeat: fc.boolean() }),
  fc.record({ testSwitch: fc.constantFrom('hold-pilot' as const, 'run' as const) }),
  fc.constant({ reset: true }),
  fc.constant({ blowOff: true }),
  fc.record({ pilotValve: fc.boolean(), spark: fc.boolean(), fan: fc.boolean() }),
);
const settings = fc.record({
  prepurgeS: fc.integer({ min: 5, max: 20 }),
  trialS: fc.integer({ min: 4, max: 15 }),
  sparkDelayS: fc.integer({ min: 0, max: 20 }),
  flameFailureS: fc.integer({ min: 1, max: 4 }),
  postpurgeS: fc.integer({ min: 0, max: 10 }),
  onFlameFailure: fc.constantFrom('lockout' as const, 'recycle' as const),
});

/** A safety shutoff valve closes within a second (from memory); this one and its gauge need less. */
const closingS = 1;
/** Well above the fan-only pressure of 0.2 inH2O, and below everything that the regulator gives. */
const flowing = 0.4;

// 100 runs of 100 s, whatever the seed; fast-check prints the one that fails.
it('gas never flows unlit for longer than the trial and the closing of the valve', { timeout: 120_000 }, () => {
  let longestS = 0;
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1e6 }),
      settings,
      fc.array(fc.tuple(fc.integer({ min: 1, max: 99 }), deed), { maxLength: 14 }),
      (seed, set, deeds) => {
        const { readings, states } = playBench({ seed, hasControl: true }, 100, [[0, { settings: set }], ...deeds]);
        let unlitSinceS: number | undefined;
        for (const { role, elapsedS, value } of readings) {
          if (role !== 'pilot_pressure') continue;
          const isUnlit = value > flowing && !states[Math.ceil(elapsedS * 10)]!.flame;
          unlitSinceS = isUnlit ? (unlitSinceS ?? elapsedS) : undefined;
          if (unlitSinceS === undefined) continue;
          longestS = Math.max(longestS, elapsedS - unlitSinceS);
          expect(elapsedS - unlitSinceS).toBeLessThanOrEqual(set.trialS + closingS);
        }
      },
    ),
    { numRuns: 100 },
  );
  // Else nothing was tried: whole trials without a flame are among these runs.
  expect(longestS).toBeGreaterThan(4);
});
