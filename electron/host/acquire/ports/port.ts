import type { Fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import type { Profile } from '../../../../shared/model/profile.ts';

export interface PortRequest {
  path: string;
  serial: Profile['serial'];
  /** Called with the bytes that arrive, until `onLost` or `close`. */
  onBytes(bytes: Uint8Array): void;
  /** The port went away by itself; `cause` when more is known than that. Called at most once, never after `close`. */
  onLost(cause?: Fault): void;
  /** Cancels opening, which can take long. */
  signal?: AbortSignal;
}

/** One connection. It cannot be reused once it is lost: a new one is opened, so that nothing stale is ever sent. */
export interface OpenedPort {
  /** Whether the first bytes begin a line. A meter that was sending already may be in the middle of one. */
  startsOnNewLine: boolean;
  /** Sends text (UTF-8) or bytes now or, when the port is not open or still busy sending, not at all. */
  write(data: string | Uint8Array): void;
  close(): Promise<void>;
}

/** Opens a port. Fails with `port-missing`, `port-busy`, `port-denied`, `port-not-serial` or `port-failed`, or one of the `network-` faults. */
export type OpenPort = (request: PortRequest) => Promise<Outcome<OpenedPort>>;

/** A byte that comes sooner than this after opening may be from the middle of a line: at 300 baud one takes 33 ms, and a USB
 * adapter delays bytes by up to 16 ms. A meter that begins a new line just then loses one value, flagged. */
export const partialLineMs = 50;
