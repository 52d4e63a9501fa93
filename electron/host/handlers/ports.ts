import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { detectMeters } from '../acquire/detect/detect-meters.ts';
import { listSerialPorts } from '../acquire/ports/list-ports.ts';
import type { HostContext } from '../host-context.ts';
import { listProfiles } from '../store/profiles.ts';

/** Which ports there are, and which meters can be detected on them. */
export function portHandlers(context: HostContext): Pick<Handlers<Api>, 'ports.list' | 'ports.listen'> {
  const { store, meters, openPort, practice } = context;
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
  };
}
