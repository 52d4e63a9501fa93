import type { PortDetection } from '../../shared/contract/api.ts';
import type { Role } from '../../shared/model/reading.ts';

export type ProfileMatch = NonNullable<PortDetection['fits']>[number];

// More buttons would be a list, and there is a list of all profiles already.
const maxOffered = 4;

/**
 * The matching profiles to offer as buttons: none whose role a connected meter gives already, and the first of each role before
 * further ones, since a bare number does not show whether a manometer or a multimeter sent it, nor in which unit.
 */
export function profileMatches(matches: readonly ProfileMatch[], connectedRoles: ReadonlySet<Role>): ProfileMatch[] {
  const free = matches.filter(({ profile }) => profile.channels.every(({ role }) => !connectedRoles.has(role)));
  const roleOf = (match: ProfileMatch) => match.profile.channels[0]?.role;
  const firsts = free.filter((match) => free.find((other) => roleOf(other) === roleOf(match)) === match);
  return [...firsts, ...free.filter((match) => !firsts.includes(match))].slice(0, maxOffered);
}
