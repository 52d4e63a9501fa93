/** How much is stored in one turn, and how long the ports have the time until the next. */
export interface BatchSize {
  lines: number;
  pauseMs: number;
}

/** After a long refusal the backlog goes out in pieces: what fits is safe at once, and between two turns the ports are read. */
export const mostAtOnce = 2000;
export const mostInOneGo = 2 * mostAtOnce;
/** So much at once is not read as it comes. */
export const muchAtOnceBytes = 16 * 1024;
/** More bytes than this do not wait in memory: what comes then has to wait for the reading. No serial line fills it. */
export const mostUnread = 64 * 2 ** 20;

// While bytes come on top of those that wait, a turn is short and is followed by a pause, in which they are taken in. When more than
// `floodBytes` come between two turns, more than can be read meanwhile, taking them in has most of the time.
const undisturbed: BatchSize = { lines: mostInOneGo, pauseMs: 0 };
const whileMoreComes: BatchSize = { lines: 1000, pauseMs: 10 };
const inFlood: BatchSize = { lines: 100, pauseMs: 20 };
const floodBytes = 16 * 1024;

/**
 * The pace of a turn.
 *
 * @param unread        bytes that wait to be read
 * @param arrivedSince  bytes that arrived since the last turn
 */
export function batchSizeOf(unread: number, arrivedSince: number): BatchSize {
  if (unread === 0 || arrivedSince === 0) return undisturbed;
  return arrivedSince > floodBytes && unread < mostUnread ? inFlood : whileMoreComes;
}
