import { Packr } from 'msgpackr';

/** Largest message a host takes over a socket. A season of captures in one package is some 20 MB. */
export const messageLimitBytes = 64 * 1024 * 1024;

// moreTypes: Float64Array and Uint8Array come back as such, in memory of their own and so aligned; NaN and undefined stay.
// No records: each message can be read alone, and no reader has to be compiled from text (the page's policy forbids it).
const packr = new Packr({ useRecords: false, moreTypes: true });

/** A message as MessagePack, for channels that carry only bytes. */
export const encode = (message: unknown): Uint8Array<ArrayBuffer> => packr.encode(message) as Uint8Array<ArrayBuffer>;

/** The message in `bytes`. Throws when they are not one whole MessagePack message. */
export const decode = (bytes: Uint8Array): unknown => packr.decode(bytes);
