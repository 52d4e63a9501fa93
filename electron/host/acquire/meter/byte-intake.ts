/** Where the bytes of one connection become lines. */
export interface ByteSource {
  port: string;
  push(bytes: Uint8Array, atMs: number): void;
}

/** Passes the bytes that arrive on a meter's port to their source, now or later. */
export interface ByteIntake {
  /** Bytes that arrived at `atMs`, monotonic. Their source gets them at once or, behind a backlog, later; always in order. */
  receive(source: ByteSource, bytes: Uint8Array, atMs: number): void;
  /** The connection is over: its source has got everything when this returns. */
  drain(source: ByteSource): void;
  /** Whether bytes of this source have not been passed on yet. */
  hasBacklog(source: ByteSource): boolean;
}
