/** How much is stored in one turn, and how long the ports get until the next. */
export interface BatchSize {
  lines: number;
  pauseMs: number;
}

/** Entries in one transaction. After a long refusal the backlog is stored in pieces: each is safe at once, and the ports are read in between. */
export const maxBatchEntries = 2000;
/** Entries in one turn. */
export const maxTurnEntries = 2 * maxBatchEntries;
/** More bytes than this in one chunk are stored raw before they are decoded. */
export const burstBytes = 16 * 1024;
/** At most this many bytes wait in memory: then ports are not read until some of them are decoded. No serial line fills it. */
export const maxBacklogBytes = 64 * 2 ** 20;

// While more bytes arrive behind a backlog, a turn is short and is followed by a pause in which they are received. When more than
// `floodBytes` arrive between two turns, more than can be decoded meanwhile, receiving gets most of the time.
const undisturbed: BatchSize = { lines: maxTurnEntries, pauseMs: 0 };
const underLoad: BatchSize = { lines: 1000, pauseMs: 10 };
const inFlood: BatchSize = { lines: 100, pauseMs: 20 };
const floodBytes = 16 * 1024;

/**
 * The size of a turn.
 *
 * @param backlogBytes   bytes that have not been decoded
 * @param receivedBytes  bytes that arrived since the last turn
 */
export function batchSizeOf(backlogBytes: number, receivedBytes: number): BatchSize {
  if (backlogBytes === 0 || receivedBytes === 0) return undisturbed;
  return receivedBytes > floodBytes && backlogBytes < maxBacklogBytes ? inFlood : underLoad;
}
