import type { IncomingMessage } from 'node:http';
import { isSame, randomSecret } from './access.ts';

/** Decides by its headers and path whether a request is answered. What is on a socket is the matter of `admission.ts`. */
export interface Guard {
  /** Where the page is: a folder with a random name, `/NAME/`, new in each run. */
  pageFolder: string;
  /** Why a request is refused, as a sentence; undefined when it is allowed. */
  refuses(request: IncomingMessage, path: string): string | undefined;
  /** Whether a socket may not be opened: any web page may try that. */
  refusesSocket(request: IncomingMessage): boolean;
}

/**
 * A guard for the loopback address `authority` (`127.0.0.1:PORT`).
 *
 * `Host` must be `authority`, which prevents DNS rebinding (a foreign name that points to this computer); `Origin`, where there is one,
 * must be ours. There is no cookie: cookies are shared by all ports of a host, and so with the programs of other users of this computer.
 */
export function createGuard(authority: string): Guard {
  const origin = `http://${authority}`;
  const pageFolder = `/${randomSecret()}/`;
  const refuseOrigin = ({ headers }: IncomingMessage) => {
    if (headers.host !== authority) return `This is Pilot Bench at ${origin}; it answers under no other name.`;
    if (headers.origin !== undefined && headers.origin !== origin)
      return 'Pilot Bench does not answer other web pages.';
    return undefined;
  };
  return {
    pageFolder,
    refuses(request, path) {
      const refusal = refuseOrigin(request);
      if (refusal) return refusal;
      return isSame(path.slice(0, pageFolder.length), pageFolder)
        ? undefined
        : 'Open Pilot Bench with the address that it printed at its start, or with a new one from a window that is open.';
    },
    refusesSocket: (request) => refuseOrigin(request) !== undefined || request.headers.origin !== origin,
  };
}
