import type { Profile } from '../../model/profile.ts';
import type { Decoded } from '../decoded.ts';
import { allUnreadable } from '../decoded.ts';
import { readResponse, readingOfResponse } from './response.ts';
import { requestsOf } from './request.ts';

/** Bytes as people see them: "01 03 02 00 FA". */
export const toHex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');

/** The bytes of such a text; undefined when it is not one. */
export function fromHex(text: string): Uint8Array | undefined {
  const pairs = text.trim().split(/ +/);
  return pairs.every((pair) => /^[\dA-Fa-f]{2}$/.test(pair))
    ? Uint8Array.from(pairs, (pair) => Number.parseInt(pair, 16))
    : undefined;
}

/**
 * Decodes the hex text of a response without knowing the request. A frame does not say which register it is from: where
 * it fits more than one of the profile's requests, it is flagged rather than guessed.
 */
export function createHexDecoder(profile: Profile): (line: string) => Decoded[] {
  const requests = requestsOf(profile);
  return (line) => {
    const frame = fromHex(line);
    const readings = requests.flatMap((request) => {
      const response = frame && readResponse(frame, request);
      return response?.kind === 'registers' ? [readingOfResponse(response, request, profile.overload)] : [];
    });
    return readings.length === 1 ? readings : allUnreadable(profile);
  };
}
