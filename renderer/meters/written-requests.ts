import { toHex } from '../../shared/instruments/modbus/hex.ts';
import { type RegisterRequest, requestFrame, requestsOf } from '../../shared/instruments/modbus/request.ts';
import type { Profile } from '../../shared/model/profile.ts';

const controlNames = new Map([
  ['\t', ' TAB'],
  ['\r', ' CR'],
  ['\n', ' LF'],
]);

/**
 * What a connection with this profile writes to the port in each round, in words and as bytes; nothing for a meter that sends by itself.
 * It is to be seen before connecting.
 */
export function writtenRequests(profile: Profile): { words: string; bytes: string }[] {
  if (profile.mode !== 'poll') return [];
  const { send } = profile.poll ?? {};
  const texts = send === undefined ? [] : [{ words: visibleText(send), bytes: toHex(new TextEncoder().encode(send)) }];
  const reads = requestsOf(profile).map((request) => ({
    words: readWords(request),
    bytes: toHex(requestFrame(request)),
  }));
  return profile.line.format === 'modbus-rtu' ? reads : texts;
}

/** "READ? LF" */
const visibleText = (text: string): string =>
  text.replaceAll(/[\t\r\n]/gu, (control) => controlNames.get(control)!).trim();

const readWords = ({ unitId, address, count, function: code }: RegisterRequest): string =>
  `Modbus, unit ${unitId}: read ${count === 1 ? `register ${address}` : `registers ${address} and ${address + 1}`} (function ${code})`;
