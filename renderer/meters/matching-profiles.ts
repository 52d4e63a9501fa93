import type { PortDetection } from '../../shared/contract/api.ts';
import type { Role } from '../../shared/model/reading.ts';

export type Fit = NonNullable<PortDetection['fits']>[number];

// More buttons are a list, and a list of all profiles is there already.
const mostOffered = 4;

/**
 * The profiles to offer for one touch: none that gives a role which a connected meter gives already, and the first of each role before
 * further ones, since a bare number tells a manometer from a multimeter no more than inches of water from pascals.
 */
export function matchesOf(fits: readonly Fit[], taken: ReadonlySet<Role>): Fit[] {
  const free = fits.filter(({ profile }) => profile.channels.every(({ role }) => !taken.has(role)));
  const roleOf = (fit: Fit) => fit.profile.channels[0]?.role;
  const firsts = free.filter((fit) => free.find((other) => roleOf(other) === roleOf(fit)) === fit);
  return [...firsts, ...free.filter((fit) => !firsts.includes(fit))].slice(0, mostOffered);
}
