import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { isNetworkPort } from '../../../shared/model/ports/network-port.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { disconnectMeter } from '../capture/connected-meters.ts';
import type { HostContext } from '../host-context.ts';

/** The switch that allows meters on the network. */
export function networkHandlers(context: HostContext): Pick<Handlers<Api>, 'network.get' | 'network.allow'> {
  const { network, meters } = context;
  return {
    'network.get': async () => ok({ allowed: network.allowed() }),
    'network.allow': async ({ allowed }) => {
      const saved = await network.set(allowed);
      if (!saved.ok) return saved;
      if (!allowed)
        for (const { port } of meters.list().filter((meter) => isNetworkPort(meter.port)))
          await disconnectMeter(context, port);
      return ok({});
    },
  };
}
