import { constants } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';

const chunkBytes = 1 << 20;
// Waits between two looks into a pipe: it holds 64 kB, so that the shortest allows 60 MB/s. Longer once it is silent.
const shortestPollMs = 1;
const longestPollMs = 20;

/** What a file or pipe gave: its bytes, or why not all of them could be read. */
export type Bounded = { bytes: Uint8Array } | { tooMany: number } | { silentS: number };

/**
 * Reads a file or a pipe to its end, but never more than `most` bytes, and not for ever: a pipe may never end, and one that nobody
 * writes into gives nothing. Throws what the file system throws.
 * @param most    bytes
 * @param quietS  seconds to wait for the next bytes of a pipe
 */
export async function readBounded(file: string, most: number, quietS: number): Promise<Bounded> {
  // Without blocking: opening a pipe that nobody writes into would wait for ever, in a thread that cannot be ended.
  const handle = await open(file, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    return await readAll(handle, most, quietS);
  } finally {
    await handle.close();
  }
}

async function readAll(handle: FileHandle, most: number, quietS: number): Promise<Bounded> {
  const isPipe = (await handle.stat()).isFIFO();
  const buffer = Buffer.allocUnsafe(chunkBytes);
  const chunks: Uint8Array[] = [];
  let total = 0;
  for (let quietMs = 0; ;) {
    const count = await readSome(handle, buffer);
    if (count) {
      quietMs = 0;
      total += count;
      if (total > most) return { tooMany: total };
      // A pipe gives much less than a whole buffer at a time.
      chunks.push(Uint8Array.prototype.slice.call(buffer, 0, count));
    } else if (!isPipe || (count === 0 && total > 0)) return { bytes: Buffer.concat(chunks) };
    else {
      // A pipe that has given nothing yet may have no writer yet.
      if (quietMs >= quietS * 1000) return count === 0 ? { bytes: new Uint8Array() } : { silentS: quietS };
      const waitMs = Math.min(shortestPollMs + quietMs, longestPollMs);
      await setTimeout(waitMs);
      quietMs += waitMs;
    }
  }
}

/** How many bytes were read; 0 at the end, undefined when a pipe has none now. */
async function readSome(handle: FileHandle, buffer: Uint8Array): Promise<number | undefined> {
  try {
    return (await handle.read(buffer, 0, buffer.length, null)).bytesRead;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
    return undefined;
  }
}
