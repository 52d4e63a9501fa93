import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { connectMeter, disconnectMeter } from '../capture/connected-meters.ts';
import type { HostContext } from '../host-context.ts';
import { watch } from '../topic.ts';

type MeterCalls = 'meters.connect' | 'meters.disconnect' | 'meters.live';

const liveEveryMs = 100;

export function meterHandlers(context: HostContext): Pick<Handlers<Api>, MeterCalls> {
  const { meters, topics } = context;
  return {
    'meters.connect': async ({ port, profile }) => connectMeter(context, port, profile),
    'meters.disconnect': async ({ port }) => {
      await disconnectMeter(context, port);
      return ok({});
    },
    'meters.live': (_input, signal) => watch(topics.meters, liveEveryMs, signal, () => meters.view()),
  };
}
