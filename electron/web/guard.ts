import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/** Decides who is let in: whoever holds the key of this run, from a page of this run. */
export interface Guard {
  /** In the first address. It counts as long as this host runs, so that the address may be opened in a second browser. */
  key: string;
  /** Why a request is refused, in words; undefined when it is let in. */
  refuses(request: IncomingMessage): string | undefined;
  /** As `refuses`, for the opening of a socket: any web page may try that, and its cookie alone does not show whose page it is. */
  refusesSocket(request: IncomingMessage): string | undefined;
  /** The cookie to set with the answer to a request that brought the key. */
  cookieFor(request: IncomingMessage): string | undefined;
}

/**
 * A guard for the loopback address `authority` (`127.0.0.1:PORT`).
 *
 * Key and cookie are 256 random bits each and made anew in each run. `Host` must be `authority`, so that a name that someone
 * else lets point to this machine does not get in; `Origin`, where there is one, must be ours.
 */
export function createGuard(authority: string): Guard {
  const key = secret();
  const pass = secret();
  // Cookies do not tell ports apart, so the name does: two workbenches on one machine do not throw each other out.
  const cookieName = `pilot-bench-${authority.split(':')[1]}`;
  const origin = `http://${authority}`;

  const bringsKey = (request: IncomingMessage) => {
    const [path, query] = (request.url ?? '').split('?');
    return path === '/' && same(new URLSearchParams(query).get('key') ?? '', key);
  };
  const bringsCookie = (request: IncomingMessage) =>
    (request.headers.cookie ?? '').split(';').some((pair) => {
      const [name, value] = pair.trim().split('=');
      return name === cookieName && same(value ?? '', pass);
    });
  const refusesAddress = ({ headers }: IncomingMessage) => {
    if (headers.host !== authority) return `This is Pilot Bench at ${origin}; it answers to no other name.`;
    if (headers.origin !== undefined && headers.origin !== origin)
      return 'Pilot Bench does not answer to other web pages.';
    return undefined;
  };
  const needsAddress = 'Open Pilot Bench by the address that it printed when it was started; the key is part of it.';

  return {
    key,
    refuses: (request) => {
      const address = refusesAddress(request);
      if (address) return address;
      return bringsKey(request) || bringsCookie(request) ? undefined : needsAddress;
    },
    refusesSocket: (request) => {
      const address = refusesAddress(request);
      if (address) return address;
      if (request.headers.origin !== origin) return 'Pilot Bench is opened from its own page only.';
      return bringsCookie(request) ? undefined : needsAddress;
    },
    cookieFor: (request) =>
      bringsKey(request) ? `${cookieName}=${pass}; Path=/; HttpOnly; SameSite=Strict` : undefined,
  };
}

const secret = () => randomBytes(32).toString('base64url');

/** Compares without telling by its time how much of `given` is right. */
const same = (given: string, right: string) => timingSafeEqual(digest(given), digest(right));
const digest = (text: string) => createHash('sha256').update(text).digest();
