import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import { isNetworkPort, readNetworkAddress } from '../../../shared/model/network-port.ts';
import { listSerialPorts } from '../acquire/ports/list-ports.ts';
import { detectMeters } from '../acquire/detect/detect-meters.ts';
import type { HostContext } from '../host-context.ts';
import { addMeter } from '../store/captures.ts';
import { findProfile, listProfiles } from '../store/profiles.ts';
import { watch } from '../topic.ts';
import { factsOfMeter } from '../capture/capture-lifecycle.ts';

type Mine =
  | 'ports.list'
  | 'ports.listen'
  | 'network.get'
  | 'network.allow'
  | 'meters.connect'
  | 'meters.disconnect'
  | 'meters.live'
  | 'store.live';

const liveEveryMs = 100;

export function meterHandlers(context: HostContext): Pick<Handlers<Api>, Mine> {
  const { store, meters, network, openPort, recorder, live, practice, storeWatch, topics } = context;
  const gap = (text: string) => recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'gap', text });
  const disconnect = async (port: string) => {
    if (!meters.list().some((meter) => meter.port === port)) return;
    await meters.disconnect(port);
    live.forget(port);
    gap(`${port} was disconnected`);
  };
  let windows = 0;
  return {
    'ports.list': async () => {
      const serial = await listSerialPorts();
      return ok({ ...serial, ports: [...(practice?.ports ?? []), ...serial.ports] });
    },
    'ports.listen': ({ ports }, signal) =>
      detectMeters(ports, {
        openPort,
        profiles: listProfiles(store.db).map(({ profile }) => profile),
        signal,
        meterOn: (path) => meters.view().find((meter) => meter.port === path),
      }),
    'network.get': async () => ok({ allowed: network.allowed() }),
    'network.allow': async ({ allowed }) => {
      const kept = network.set(allowed);
      if (!kept.ok) return kept;
      if (!allowed)
        for (const { port } of meters.list().filter((meter) => isNetworkPort(meter.port))) await disconnect(port);
      return ok({});
    },
    'meters.connect': async ({ port, profile }) => {
      const found = findProfile(store.db, profile);
      if (!found.ok) return found;
      const trouble = isNetworkPort(port) ? networkTrouble(port, network.allowed()) : undefined;
      if (trouble) return fail(trouble);
      const connected = await meters.connect(port, found.value);
      if (!connected.ok) return connected;
      const target = recorder.target();
      if (target) {
        addMeter(store.db, target.key, factsOfMeter(connected.value));
        gap(`${port} was connected`);
      }
      return ok({});
    },
    'meters.disconnect': async ({ port }) => {
      await disconnect(port);
      return ok({});
    },
    'meters.live': (_input, signal) => watch(topics.meters, liveEveryMs, signal, () => meters.view()),
    'store.live': async function* (_input, signal) {
      windows += 1;
      topics.store.notify();
      try {
        yield* watch(topics.store, liveEveryMs, signal, () => {
          const trouble = recorder.trouble() ?? storeWatch.fault();
          return { windows, ...(trouble && { fault: trouble }) };
        });
      } finally {
        windows -= 1;
        topics.store.notify();
      }
      return undefined;
    },
  };
}

/** What no trying again would mend. */
function networkTrouble(port: string, allowed: boolean): Fault | undefined {
  const address = readNetworkAddress(port);
  if (!address.ok) return address.fault;
  return allowed ? undefined : fault('network-off', { port });
}
