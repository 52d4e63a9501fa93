import type { z } from 'zod';
import type { Fault } from '../model/faults.ts';

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

/**
 * Anything that can post and listen: a MessagePort, a WebSocket behind a codec, a pair in a test.
 * Messages arrive whole and in order, and only once there is a listener.
 */
export interface Channel {
  /** Sends; does nothing after the channel closed. Gives the fault of a message that it cannot carry (too large). */
  post(message: unknown): Fault | undefined;
  onMessage(listener: (message: unknown) => void): void;
  /** Called once, whichever side closed; at once when it is closed already. */
  onClose(listener: () => void): void;
  close(): void;
}
