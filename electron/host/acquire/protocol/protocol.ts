import type { Decoded } from '../../../../shared/instruments/decode.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';

/** A line or frame as it was decoded, without its bytes. */
export interface DecodedLine {
  /** Monotonic time at which its last byte arrived, milliseconds. */
  atMs: number;
  text: string;
  readings: Decoded[];
  /** Why it gave no number, where the cause is known. */
  fault?: Fault;
}

/** What a meter sent as one unit, a line of text without its line ending or a frame, and what was decoded from it. */
export interface ReceivedLine extends DecodedLine {
  bytes: Buffer;
}

/** What every protocol is made with. */
export interface ProtocolContext {
  port: string;
  profile: Profile;
  clock: Clock;
  onLine(line: ReceivedLine): void;
}

/** The communication with a meter over one connection. Each connection has a new one: nothing stale is ever sent or read. */
export interface Protocol {
  /** Accepts bytes that arrived at `atMs`, monotonic. */
  push(bytes: Uint8Array, atMs: number): void;
  /** Monotonic time at which the meter last sent something; before that, at which the protocol was made. Milliseconds. */
  lastReceivedMs(): number;
  /** The port is open: from now on the meter is polled, if its profile says so. */
  open(write: (data: string | Uint8Array) => void): void;
  /** The recording ends: emits the bytes of an unfinished line as a partial line. */
  flush(): void;
  /** The port is gone: stops polling, emits what is left, then resolves. */
  close(): Promise<void>;
}
