import type { z } from 'zod';

/** A question with one answer. */
export interface Call<I extends z.ZodType, O extends z.ZodType> {
  kind: 'call';
  input: I;
  output: O;
}

/** A subscription: items until either side ends it. */
export interface Feed<I extends z.ZodType, O extends z.ZodType> {
  kind: 'feed';
  input: I;
  output: O;
}

export const call = <I extends z.ZodType, O extends z.ZodType>(input: I, output: O): Call<I, O> => ({
  kind: 'call',
  input,
  output,
});
export const feed = <I extends z.ZodType, O extends z.ZodType>(input: I, output: O): Feed<I, O> => ({
  kind: 'feed',
  input,
  output,
});

export type Contract = Record<string, Call<z.ZodType, z.ZodType> | Feed<z.ZodType, z.ZodType>>;

/** Anything that can post and listen: a MessagePort, a WebSocket behind a codec, a pair in a test. */
export interface Channel {
  post(message: unknown): void;
  onMessage(listener: (message: unknown) => void): void;
  onClose(listener: () => void): void;
  close(): void;
}
