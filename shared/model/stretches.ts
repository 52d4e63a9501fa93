import type { FlameState, GasState } from './burner-words.ts';
import type { TimeSpan } from './sweeps.ts';

/**
 * What a stretch of a visit was, gas and flame together. `shut`: gas shut, nothing burns; `unlit`: gas on and no flame yet; `lit`: a flame
 * burns, steadily or not; `lost`: the flame went out and gas stayed on; `unknown`: nobody can tell.
 */
export const stretchKinds = ['shut', 'unlit', 'lit', 'lost', 'unknown'] as const;
export type StretchKind = (typeof stretchKinds)[number];

/** A stretch of a visit of one kind, as long as possible. */
export interface Stretch extends TimeSpan {
  kind: StretchKind;
}

/** The kind of a moment, by what the tracker says of it. A flame is believed without the manometer, shut gas not without both meters. */
export function stretchKindOf({ gas, flame }: { gas: GasState; flame: FlameState }): StretchKind {
  if (flame === 'lost') return 'lost';
  if (flame === 'burning' || flame === 'unsteady') return 'lit';
  if (gas === 'unknown' || flame === 'unknown') return 'unknown';
  if (gas === 'shut' || (gas === 'closing' && flame === 'out')) return 'shut';
  return 'unlit';
}

/** Adds a span after the others: it prolongs the last stretch where that is of the same kind, and no longer than `joinS` ago. */
export function addStretch(stretches: Stretch[], span: Stretch, joinS = 0.5): void {
  const last = stretches.at(-1);
  if (last?.kind === span.kind && span.fromS - last.toS <= joinS) last.toS = Math.max(last.toS, span.toS);
  else stretches.push({ ...span });
}

/** The stretches of a capture by its `phases` of the analysis. */
export function stretchesOf(
  phases: readonly { from_s: number; to_s: number; gas: GasState; flame: FlameState }[] = [],
): Stretch[] {
  const stretches: Stretch[] = [];
  for (const phase of phases)
    addStretch(stretches, { fromS: phase.from_s, toS: phase.to_s, kind: stretchKindOf(phase) });
  return stretches;
}

/** The index of the stretch at a time, seconds; -1 where none is. Fast for rising times. */
export function stretchAt(stretches: readonly Stretch[]): (elapsedS: number) => number {
  let i = 0;
  let last = -Infinity;
  return (elapsedS) => {
    if (elapsedS < last) i = 0;
    last = elapsedS;
    // The last stretch holds its own end: the newest reading is at it.
    while (i < stretches.length - 1 && stretches[i]!.toS <= elapsedS) i += 1;
    const found = stretches[i];
    return found && elapsedS >= found.fromS && elapsedS <= found.toS ? i : -1;
  };
}

/** The kind of stretch at a time, seconds; `unknown` where none is. */
export function kindAt(stretches: readonly Stretch[]): (elapsedS: number) => StretchKind {
  const at = stretchAt(stretches);
  return (elapsedS) => stretches[at(elapsedS)]?.kind ?? 'unknown';
}

/** Whether a flame burned at a time, by the `phases` of an analysis; where it gives none, its readings are those of a flame. */
export function litAt(phases: Parameters<typeof stretchesOf>[0]): (elapsedS: number) => boolean {
  if (!phases) return () => true;
  const kindOf = kindAt(stretchesOf(phases));
  return (elapsedS) => kindOf(elapsedS) === 'lit';
}
