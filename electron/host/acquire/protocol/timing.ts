/** The intervals and timeouts of ports and recording, milliseconds. Tests shorten them. */
export interface Timing {
  /** Lines are gathered this long for one transaction. */
  batchMs: number;
  /** Until a port that is not there, or went away, is tried again. */
  retryMs: number;
  /** An open port that sends nothing for this long is called silent. */
  silentMs: number;
  /** Until a store that refused a batch is tried again. */
  storeRetryMs: number;
  /** A Modbus meter must begin its response within this time. */
  responseTimeoutMs: number;
}

export const defaultTiming: Timing = {
  // Twenty points a second reach the eye, one transaction a batch the disk; well inside the 250 ms that are promised.
  batchMs: 50,
  retryMs: 1000,
  // The slowest meters send every two seconds.
  silentMs: 5000,
  storeRetryMs: 500,
  // MODBUS over Serial Line V1.02, 2.4.1: one to several seconds at 9600 baud.
  responseTimeoutMs: 1000,
};
