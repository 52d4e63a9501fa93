import { drawSweep } from '../sweep/kinds.ts';
import { captureOf, simulateSweep, type SweepFacts } from '../sweep/simulate.ts';

/** The plain sweep that times are measured on: three minutes, both meters ten times a second, 3,600 readings. */
export function threeMinutes(changed: Partial<SweepFacts> = {}) {
  const { facts: drawn, capture } = drawSweep('two shoulders', 1);
  // Down, up and back to the middle is twice the range; the regulator rests for sixteen seconds in all.
  const speed = (2 * (drawn.tested[1] - drawn.tested[0])) / (180 - 16);
  const facts: SweepFacts = { ...drawn, speed, manometerHz: 10, signalHz: 10, ...changed };
  return { facts, capture: captureOf(simulateSweep(facts, 1).readings, capture.setup) };
}
