import { fault } from '../faults.ts';
import type { Outcome } from '../outcome.ts';
import { fail, ok } from '../outcome.ts';

/** Address of a serial server. `host` is a name or an IP address, IPv6 without its brackets. */
export interface NetworkAddress {
  host: string;
  port: number;
}

/** Whether a port's path is a serial server on the network (`tcp://host:port`) and not a port of this computer. */
export const isNetworkPort = (path: string): boolean => /^tcp:/i.test(path);

// An IPv6 address is in brackets, as in any address with a port (RFC 3986, 3.2.2); a zone after "%" names a link.
const address = /^tcp:\/\/(?:\[([\da-f:.]+(?:%[\w.-]+)?)\]|([^\s:/?#@[\]]+)):(\d{1,5})\/?$/i;

/** Parses `tcp://host:port`. Fails with `network-address`. */
export function readNetworkAddress(path: string): Outcome<NetworkAddress> {
  const [, ipv6, name, digits = ''] = address.exec(path) ?? [];
  const host = ipv6 ?? name;
  const port = Number(digits);
  if (host === undefined || port < 1 || port > 65_535) return fail(fault('network-address', { port: path }));
  return ok({ host, port });
}
