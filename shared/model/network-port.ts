import { fault } from './faults.ts';
import type { Outcome } from './outcome.ts';
import { fail, ok } from './outcome.ts';

/** Where a serial server is reached. `host` is a name or an address, an IPv6 address without its brackets. */
export interface NetworkAddress {
  host: string;
  port: number;
}

/** Whether a port's path names a serial server on the network (`tcp://host:port`) and none of this computer's ports. */
export const isNetworkPort = (path: string): boolean => /^tcp:/i.test(path);

// An IPv6 address stands in brackets, as in every address with a port (RFC 3986, 3.2.2); a zone after "%" names a link.
const address = /^tcp:\/\/(?:\[([\da-f:.]+(?:%[\w.-]+)?)\]|([^\s:/?#@[\]]+)):(\d{1,5})\/?$/i;

/** Reads `tcp://host:port`. Fails with `network-address`. */
export function readNetworkAddress(path: string): Outcome<NetworkAddress> {
  const [, six, name, digits = ''] = address.exec(path) ?? [];
  const host = six ?? name;
  const port = Number(digits);
  if (host === undefined || port < 1 || port > 65_535) return fail(fault('network-address', { port: path }));
  return ok({ host, port });
}
