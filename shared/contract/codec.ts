import { Packr } from 'msgpackr';

/** Largest message that a host accepts over a socket, bytes. A package with a season of captures is some 20 MB. */
export const messageLimitBytes = 64 * 1024 * 1024;

// moreTypes: Float64Array and Uint8Array keep their type, in buffers of their own and so aligned; NaN and undefined are kept.
// No records: each message can be read alone, and no reader is compiled from text (the page's policy forbids that).
const packr = new Packr({ useRecords: false, moreTypes: true });

/** A message as MessagePack, for channels that carry only bytes. */
export const encode = (message: unknown): Uint8Array<ArrayBuffer> => packr.encode(message) as Uint8Array<ArrayBuffer>;

/** The message in `bytes`. Throws when they are not one whole MessagePack message. */
export const decode = (bytes: Uint8Array): unknown => packr.decode(bytes);
