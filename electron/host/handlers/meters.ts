import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { listSerialPorts } from '../acquire/list-ports.ts';
import type { Parts } from '../parts.ts';
import { addMeter } from '../store/captures.ts';
import { findProfile } from '../store/profiles.ts';
import { watch } from '../topic.ts';
import { factsOfMeter } from '../visit.ts';

type Mine = 'ports.list' | 'meters.connect' | 'meters.disconnect' | 'meters.live' | 'store.live';

const liveEveryMs = 100;

export function meterHandlers(parts: Parts): Pick<Handlers<Api>, Mine> {
  const { store, meters, recorder, live, practice, sharing, topics } = parts;
  const gap = (text: string) => recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'gap', text });
  return {
    'ports.list': async () => {
      const serial = await listSerialPorts();
      return ok({ ...serial, ports: [...(practice?.ports ?? []), ...serial.ports] });
    },
    'meters.connect': async ({ port, profile }) => {
      const found = findProfile(store.db, profile);
      if (!found.ok) return found;
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
      if (!meters.list().some((meter) => meter.port === port)) return ok({});
      await meters.disconnect(port);
      live.forget(port);
      gap(`${port} was disconnected`);
      return ok({});
    },
    'meters.live': (_input, signal) => watch(topics.meters, liveEveryMs, signal, () => meters.view()),
    'store.live': (_input, signal) =>
      watch(topics.store, liveEveryMs, signal, () => {
        const trouble = recorder.trouble() ?? sharing.fault();
        return trouble ? { fault: trouble } : {};
      }),
  };
}
