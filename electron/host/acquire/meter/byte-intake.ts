/** Where the bytes of one connection become lines. */
export interface Source {
  port: string;
  take(bytes: Uint8Array, atMs: number): void;
}

/** The way of a meter's bytes to its lines. */
export interface Intake {
  /** Bytes that arrived at `atMs`, monotonic. Their source takes them now or, when much waits already, later, in order. */
  arrive(source: Source, bytes: Uint8Array, atMs: number): void;
  /** The connection is over: its source has taken everything when this returns. */
  settle(source: Source): void;
  /** Whether bytes of this source wait to be read. */
  isUnread(source: Source): boolean;
}
