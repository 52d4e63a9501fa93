import type { Decoded } from '../../../../shared/instruments/decode.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Clock } from '../../clock.ts';

/** A line that was read, as far as people see it. */
export interface ReadLine {
  /** Monotonic time at which its last byte arrived. */
  atMs: number;
  text: string;
  readings: Decoded[];
  /** Why it gave no number, where more is known than that it did not. */
  trouble?: Fault;
}

/** What a meter said at once, a line of text without its line end or a frame of bytes, and what was read in it. */
export interface ReceivedLine extends ReadLine {
  bytes: Buffer;
}

/** What every talk is made with. */
export interface ProtocolContext {
  port: string;
  profile: Profile;
  clock: Clock;
  onSaid(said: ReceivedLine): void;
}

/** The talk with a meter over one connection. Another connection is another talk: nothing old is ever sent or read. */
export interface Protocol {
  /** Takes bytes that arrived at `atMs`, monotonic. */
  push(bytes: Uint8Array, atMs: number): void;
  /** Monotonic time at which the meter was last heard; before that, at which the talk was made. */
  heardMs(): number;
  /** The port is open: from now on the meter is asked, if it is one that must be. */
  begin(write: (data: string | Uint8Array) => void): void;
  /** What was being recorded ends: gives out what has come of a line, as a part of one. */
  cut(): void;
  /** The port is gone: asks no more, gives out what is left, then resolves. */
  end(): Promise<void>;
}
