import type { Profile } from '../model/profile.ts';
import type { Flag, Role, Unit } from '../model/reading.ts';

/** Longer lines are flagged and never matched: no meter prints that much, and it bounds the work for one line. Characters. */
export const maxLineLength = 512;

/** One reading decoded from a line, without its time. `value` is in `unit`, NaN exactly when `flag` is set. */
export interface Decoded {
  role: Role;
  unit: Unit;
  value: number;
  flag?: Flag;
  /** The unit that the meter printed, when the number was converted from it into the channel's. */
  convertedFrom?: string;
}

export type Channel = Profile['channels'][number];

/** A reading of the channel without a number, and why. */
export const flagged = (channel: Channel, flag: Flag): Decoded => ({
  role: channel.role,
  unit: channel.unit as Unit,
  value: Number.NaN,
  flag,
});

/** An unreadable reading for each channel. */
export const allUnreadable = (profile: Profile): Decoded[] =>
  profile.channels.map((channel) => flagged(channel, 'unreadable'));

// What instruments send that can only send numbers: 9.9E37 and -9.9E37 for overload, 9.91E37 for not a number
// (SCPI 1999, volume 1, 7.2.1; from memory). A meter that computes in single precision is off in the eighth digit.
const infinity = 9.9e37;
const notANumber = 9.91e37;
const singlePrecision = 1e-6;

/**
 * The reading of a channel from the meter's number, which is in the channel's unit but before scale and offset.
 * A switch is 0 or 1 and nothing between.
 * @param convertedFrom  the unit that the meter printed, when the number was converted from it
 */
export function readingOf(channel: Channel, number: number, convertedFrom?: string): Decoded {
  if (!Number.isFinite(number)) return flagged(channel, 'unreadable');
  const magnitude = Math.abs(number);
  if (Math.abs(magnitude / notANumber - 1) < singlePrecision) return flagged(channel, 'unreadable');
  if (magnitude >= infinity * (1 - singlePrecision)) return flagged(channel, 'overload');
  if (channel.unit === 'on' && number !== 0 && number !== 1) return flagged(channel, 'unreadable');
  const value = channel.scale * number + channel.offset;
  if (!Number.isFinite(value)) return flagged(channel, 'unreadable');
  return {
    role: channel.role,
    unit: channel.unit as Unit,
    value,
    ...(convertedFrom !== undefined && { convertedFrom }),
  };
}
