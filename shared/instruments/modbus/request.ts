import type { Profile, RegisterLine } from '../../model/profile.ts';
import { registerOf, registerCount } from '../../model/profile.ts';
import type { Channel } from '../decoded.ts';
import { withCrc } from './crc16.ts';

/** A request for the registers of one channel. */
export interface RegisterRequest {
  channel: Channel;
  unitId: number;
  function: 3 | 4;
  address: number;
  /** How many registers. */
  count: 1 | 2;
  type: RegisterLine['type'];
  wordOrder: RegisterLine['wordOrder'];
}

/** The requests of a Modbus profile in one round, channel by channel; none for other formats. */
export function requestsOf({ line, channels }: Profile): RegisterRequest[] {
  if (line.format !== 'modbus-rtu') return [];
  return channels.map((channel) => {
    const register = registerOf(line, channel);
    return { channel, unitId: line.unitId, count: registerCount(register.type), ...register };
  });
}

/** The request as an RTU frame: MODBUS Application Protocol V1.1b3, 6.3 and 6.4. */
export const requestFrame = ({ unitId, function: code, address, count }: RegisterRequest): Uint8Array =>
  withCrc([unitId, code, address >> 8, address & 0xff, count >> 8, count & 0xff]);
