/** What a meter does that gathers its lines and sends several at once. */
export interface Burst {
  /** Lines of one channel that came at once. */
  lines: number;
  /** How long the meter was silent before: a line may be this much older than its time stamp. Seconds. */
  delayS: number;
}

/** Distinguishes a meter that sends each line as it measures from one that sends its lines in bursts. */
export interface BurstDetector {
  /** Counts a line that arrived at `atMs`, monotonic, with numbers for these channels. */
  add(atMs: number, channels: readonly string[]): void;
  /** The latest burst, as long as the meter keeps sending in bursts. */
  current(): Burst | undefined;
}

// A USB adapter delivers every 16 ms what has come (common practice): that is no burst of the meter's.
const togetherMs = 20;
// A shorter silence does no harm: nobody turns a regulator that fast.
const minSilenceMs = 300;
const minLines = 3;
// Once may be a computer that was busy; a meter that sends in bursts does so again and again.
const minBursts = 3;

export function createBurstDetector(): BurstDetector {
  let lastMs: number | undefined;
  let silenceMs = 0;
  /** Lines by channel that came together. */
  let counts = new Map<string, number>();
  /** Rises with each burst and falls with each line that came alone. */
  let score = 0;
  let current: Burst | undefined;

  /** What came together is over. */
  const evaluate = () => {
    const lines = Math.max(0, ...counts.values());
    if (lines === 0) return;
    const isBurst = lines >= minLines && silenceMs >= minSilenceMs;
    score = Math.max(0, Math.min(minBursts, score + (isBurst ? 1 : -1)));
    if (isBurst && (current || score === minBursts)) current = { lines, delayS: silenceMs / 1000 };
    else if (score === 0) current = undefined;
  };

  return {
    add(atMs, channels) {
      const gapMs = lastMs === undefined ? 0 : atMs - lastMs;
      if (gapMs > togetherMs) {
        evaluate();
        counts = new Map();
        silenceMs = gapMs;
      }
      lastMs = atMs;
      for (const channel of channels) counts.set(channel, (counts.get(channel) ?? 0) + 1);
    },
    current: () => current,
  };
}
