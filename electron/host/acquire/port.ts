import type { Outcome } from '../../../shared/model/outcome.ts';
import type { Profile } from '../../../shared/model/profile.ts';

export interface PortRequest {
  path: string;
  serial: Profile['serial'];
  /** Called with what arrives, until `onLost` or `close`. */
  onBytes(bytes: Uint8Array): void;
  /** The port went away by itself. Called once at most, never after `close`. */
  onLost(): void;
}

/** One connection. When it is lost it is of no more use: a new one is opened, so that nothing old is ever sent. */
export interface OpenedPort {
  /** Whether the first bytes begin a line. A wire that is talking already may be in the middle of one. */
  beginsWhole: boolean;
  /** Sends text (UTF-8) or bytes now or, when the port is not open or still busy with the last one, not at all. */
  write(data: string | Uint8Array): void;
  close(): Promise<void>;
}

/** Opens a port. Fails with `port-missing`, `port-busy`, `port-denied` or `port-failed`. */
export type OpenPort = (request: PortRequest) => Promise<Outcome<OpenedPort>>;
