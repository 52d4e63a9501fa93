/** What a meter does that holds its lines back. */
export interface Bursts {
  /** Lines that came at once, of one channel. */
  lines: number;
  /** How long it was silent before: a line may be so much older than its stamp. Seconds. */
  heldS: number;
}

/** Tells a meter that sends each line as it measures from one that gathers lines and sends them together. */
export interface BurstWatch {
  /** Takes note of a line that arrived at `atMs`, monotonic, with numbers for these channels. */
  add(atMs: number, channels: readonly string[]): void;
  /** The newest burst, as long as the meter keeps on sending so. */
  seen(): Bursts | undefined;
}

// A USB adapter hands over what has come every 16 ms (common practice): that is no burst of the meter's.
const togetherMs = 20;
// Less than this is no harm: a hand turns no regulator so fast.
const silentMs = 300;
const leastLines = 3;
// Once is a computer that was busy; a habit shows again and again.
const leastTimes = 3;

export function createBurstWatch(): BurstWatch {
  let lastMs: number | undefined;
  let silence = 0;
  let counts = new Map<string, number>();
  let habit = 0;
  let told: Bursts | undefined;

  /** What has come together is over. */
  const judge = () => {
    const lines = Math.max(0, ...counts.values());
    if (lines === 0) return;
    const held = lines >= leastLines && silence >= silentMs;
    habit = Math.max(0, Math.min(leastTimes, habit + (held ? 1 : -1)));
    if (held && (told || habit === leastTimes)) told = { lines, heldS: silence / 1000 };
    else if (habit === 0) told = undefined;
  };

  return {
    add(atMs, channels) {
      const gap = lastMs === undefined ? 0 : atMs - lastMs;
      if (gap > togetherMs) {
        judge();
        counts = new Map();
        silence = gap;
      }
      lastMs = atMs;
      for (const channel of channels) counts.set(channel, (counts.get(channel) ?? 0) + 1);
    },
    seen: () => told,
  };
}
