import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/** Access control of the browser host: only who has the access key of this run, and only from the page of this run. */
export interface Guard {
  /** The access key, part of the printed address. Valid as long as this host runs, so that a second browser can open the address. */
  key: string;
  /** Why a request is refused, as a sentence; undefined when it is allowed. */
  refuses(request: IncomingMessage): string | undefined;
  /** As `refuses`, for opening a socket: any web page may try that, and the cookie alone does not show which page it is. */
  refusesSocket(request: IncomingMessage): string | undefined;
  /** The cookie to set with the response to a request that has the access key. */
  cookieFor(request: IncomingMessage): string | undefined;
}

/**
 * A guard for the loopback address `authority` (`127.0.0.1:PORT`).
 *
 * Access key and cookie are 256 random bits each, new in each run. `Host` must be `authority`, which prevents DNS rebinding (a foreign
 * name that points to this computer); `Origin`, where there is one, must be ours.
 */
export function createGuard(authority: string): Guard {
  const key = secret();
  const cookieValue = secret();
  // Cookies are shared by all ports of a host, so the name contains the port: two workbenches do not replace each other's cookie.
  const cookieName = `pilot-bench-${authority.split(':')[1]}`;
  const origin = `http://${authority}`;

  const hasKey = (request: IncomingMessage) => {
    const [path, query] = (request.url ?? '').split('?');
    return path === '/' && isSame(new URLSearchParams(query).get('key') ?? '', key);
  };
  const hasCookie = (request: IncomingMessage) =>
    (request.headers.cookie ?? '').split(';').some((pair) => {
      const [name, value] = pair.trim().split('=');
      return name === cookieName && isSame(value ?? '', cookieValue);
    });
  const refuseOrigin = ({ headers }: IncomingMessage) => {
    if (headers.host !== authority) return `This is Pilot Bench at ${origin}; it answers under no other name.`;
    if (headers.origin !== undefined && headers.origin !== origin)
      return 'Pilot Bench does not answer other web pages.';
    return undefined;
  };
  const needsKey = 'Open Pilot Bench with the address that it printed at its start; the access key is part of it.';

  return {
    key,
    refuses: (request) => {
      const refusal = refuseOrigin(request);
      if (refusal) return refusal;
      return hasKey(request) || hasCookie(request) ? undefined : needsKey;
    },
    refusesSocket: (request) => {
      const refusal = refuseOrigin(request);
      if (refusal) return refusal;
      if (request.headers.origin !== origin) return 'Only the page of Pilot Bench may open a connection.';
      return hasCookie(request) ? undefined : needsKey;
    },
    cookieFor: (request) =>
      hasKey(request) ? `${cookieName}=${cookieValue}; Path=/; HttpOnly; SameSite=Strict` : undefined,
  };
}

const secret = () => randomBytes(32).toString('base64url');

/** Compares in constant time. */
const isSame = (given: string, expected: string) => timingSafeEqual(digest(given), digest(expected));
const digest = (text: string) => createHash('sha256').update(text).digest();
