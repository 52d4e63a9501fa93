import { z } from 'zod';

// How a page of the browser host proves that it may come in, before anything else is said on its socket.

/** Name of the one-time key in the fragment of an address: browsers send no fragment to anybody. */
export const keyName = 'key';

/** Most bytes that a page may send before it is admitted; its first message has some 150. */
export const helloLimitBytes = 1024;

const secret = z.string().max(100);

/**
 * The first message of a page: the one-time key of the address that it was opened with, the token of an earlier admission, or both.
 * An unused key counts; else the token, as a used address may be opened again in the browser that used it.
 */
export const Hello = z.strictObject({ kind: z.literal('hello'), key: secret.optional(), token: secret.optional() });
export type Hello = z.infer<typeof Hello>;

/**
 * The host's answer: the token for the next time this browser connects, and the proof of this run of the host, which only pages know that
 * it admitted: a page that connects again expects the same one. Or a refusal, and the socket is closed.
 */
export const HelloAnswer = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('welcome'), token: secret, proof: secret }),
  z.object({ kind: z.literal('refused') }),
]);
export type HelloAnswer = z.infer<typeof HelloAnswer>;
