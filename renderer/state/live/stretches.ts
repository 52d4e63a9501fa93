import { useMemo } from 'react';
import type { CaptureView } from '../../../shared/contract/api.ts';
import { type Stretch, stretchesOf } from '../../../shared/model/stretches.ts';
import { useAnalysis } from '../analysis.ts';
import { useFeed } from '../feeds.ts';

const none: readonly Stretch[] = [];

/**
 * What the burner did during a capture: told live by the host while it is being recorded, with hindsight by the analysis afterwards. Empty
 * where nobody can tell yet; one unknown stretch where the analysis cannot.
 */
export function useStretches(capture: CaptureView | undefined): readonly Stretch[] {
  const isLive = capture?.status === 'recording';
  const live = useFeed('burner.stretches', capture && isLive ? { capture: capture.id } : undefined);
  const { analysis, fault } = useAnalysis(isLive ? undefined : capture);
  const phases = analysis?.result.phases;
  const durationS = fault && capture?.durationS;
  const afterwards = useMemo(
    () => (durationS === undefined ? stretchesOf(phases) : [{ fromS: 0, toS: durationS, kind: 'unknown' as const }]),
    [phases, durationS],
  );
  const told = live?.stretches;
  // The host speaks when something changes: the last stretch lasts until it says another.
  const untilNow = useMemo(
    () => told?.map((stretch, i) => (i === told.length - 1 ? { ...stretch, toS: Infinity } : stretch)),
    [told],
  );
  return isLive ? (untilNow ?? none) : afterwards;
}
