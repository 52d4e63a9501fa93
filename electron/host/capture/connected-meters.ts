import { isNetworkPort, readNetworkAddress } from '../../../shared/model/ports/network-port.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';
import { addMeter } from '../store/captures.ts';
import { findProfile } from '../store/profiles.ts';
import { factsOfMeter } from './capture-lifecycle.ts';

/**
 * Connects the meter on `port`, read by the profile of that name; a running capture notes it as one of its meters and as a gap on
 * its time line. Fails with `profile-missing`, `profile-invalid`, `network-address`, `network-off` or `role-taken`.
 */
export async function connectMeter(
  context: HostContext,
  port: string,
  profile: string,
): Promise<Outcome<Record<string, never>>> {
  const { store, meters, network, recorder } = context;
  const found = findProfile(store.db, profile);
  if (!found.ok) return found;
  // Refused at once, unlike a port that does not open: trying again would not help.
  if (isNetworkPort(port)) {
    const address = readNetworkAddress(port);
    if (!address.ok) return address;
    if (!network.allowed()) return fail(fault('network-off', { port }));
  }
  const connected = await meters.connect(port, found.value);
  if (!connected.ok) return connected;
  const target = recorder.target();
  if (target) {
    addMeter(store.db, target.key, factsOfMeter(connected.value));
    markGap(context, `${port} was connected`);
  }
  return ok({});
}

/** Disconnects the meter on `port`, if one is connected there, and marks the gap on the time line of a running capture. */
export async function disconnectMeter(context: HostContext, port: string): Promise<void> {
  const { meters, live } = context;
  if (!meters.list().some((meter) => meter.port === port)) return;
  await meters.disconnect(port);
  live.forget(port);
  markGap(context, `${port} was disconnected`);
}

const markGap = ({ recorder }: HostContext, text: string): void =>
  recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'gap', text });
