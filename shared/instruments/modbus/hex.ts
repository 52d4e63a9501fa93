import type { Profile } from '../../model/profile.ts';
import type { Decoded } from '../decoded.ts';
import { allUnreadable } from '../decoded.ts';
import { readAnswer, readingIn } from './response.ts';
import { requestsOf } from './request.ts';

/** Bytes as people see them: "01 03 02 00 FA". */
export const hexOf = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');

/** The bytes of such a text; undefined when it is none. */
export function bytesOfHex(text: string): Uint8Array | undefined {
  const pairs = text.trim().split(/ +/);
  return pairs.every((pair) => /^[\dA-Fa-f]{2}$/.test(pair))
    ? Uint8Array.from(pairs, (pair) => Number.parseInt(pair, 16))
    : undefined;
}

/**
 * Reads the hex text of an answer without knowing the question. A frame does not say which register it is from: where
 * it may answer more than one of the profile's questions, it is flagged rather than guessed.
 */
export function createHexReader(profile: Profile): (line: string) => Decoded[] {
  const requests = requestsOf(profile);
  return (line) => {
    const frame = bytesOfHex(line);
    const answered = requests.flatMap((request) => {
      const answer = frame && readAnswer(frame, request);
      return answer?.kind === 'registers' ? [readingIn(answer, request, profile.overload)] : [];
    });
    return answered.length === 1 ? answered : allUnreadable(profile);
  };
}
