import type { Fault } from './faults.ts';

/** The result of a call that may fail for an expected reason. Bugs are exceptions, never outcomes. */
export type Outcome<T> = { ok: true; value: T } | { ok: false; fault: Fault };

export const ok = <T>(value: T): Outcome<T> => ({ ok: true, value });
export const fail = (fault: Fault): { ok: false; fault: Fault } => ({ ok: false, fault });
