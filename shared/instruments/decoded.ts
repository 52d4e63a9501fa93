import type { Profile } from '../model/profile.ts';
import type { Flag, Role, Unit } from '../model/reading.ts';

/** Lines over this many characters are flagged and never matched: no meter prints so much, and it bounds the work of one line. */
export const longestLine = 512;

/** One reading of a line, not yet stamped. `value` is NaN exactly when `flag` is set. */
export interface Decoded {
  role: Role;
  unit: Unit;
  value: number;
  flag?: Flag;
  /** The unit that the meter printed, when the number was converted from it into the channel's. */
  convertedFrom?: string;
}

export type Channel = Profile['channels'][number];

export const flagged = (channel: Channel, flag: Flag): Decoded => ({
  role: channel.role,
  unit: channel.unit as Unit,
  value: Number.NaN,
  flag,
});

export const allUnreadable = (profile: Profile): Decoded[] =>
  profile.channels.map((channel) => flagged(channel, 'unreadable'));

// What instruments send that can send numbers only: 9.9E37 and -9.9E37 for beyond my range, 9.91E37 for not a number
// (SCPI 1999, volume 1, 7.2.1; from memory). A meter that computes in single precision is off in the eighth digit.
const infinity = 9.9e37;
const notANumber = 9.91e37;
const singlePrecision = 1e-6;

/**
 * The reading of a channel from the number the meter gave, in the channel's unit but before scale and offset.
 * A switch is 0 or 1 and nothing between.
 */
export function readingOf(channel: Channel, given: number, convertedFrom?: string): Decoded {
  if (!Number.isFinite(given)) return flagged(channel, 'unreadable');
  const size = Math.abs(given);
  if (Math.abs(size / notANumber - 1) < singlePrecision) return flagged(channel, 'unreadable');
  if (size >= infinity * (1 - singlePrecision)) return flagged(channel, 'overload');
  if (channel.unit === 'on' && given !== 0 && given !== 1) return flagged(channel, 'unreadable');
  const value = channel.scale * given + channel.offset;
  if (!Number.isFinite(value)) return flagged(channel, 'unreadable');
  return {
    role: channel.role,
    unit: channel.unit as Unit,
    value,
    ...(convertedFrom !== undefined && { convertedFrom }),
  };
}
