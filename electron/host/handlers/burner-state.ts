import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';
import { watch } from '../topic.ts';

const liveEveryMs = 200;

export function burnerStateHandlers({
  burner,
  recorder,
  topics,
}: HostContext): Pick<Handlers<Api>, 'burner.live' | 'burner.air'> {
  return {
    'burner.live': (_input, signal) => watch(topics.burner, liveEveryMs, signal, () => burner.view()),
    'burner.air': async ({ confirmed }) => {
      burner.confirmFan(confirmed);
      recorder.mark({
        elapsedS: recorder.elapsedS(),
        kind: confirmed ? 'air-confirmed' : 'air-stopped',
        text: confirmed ? 'fan running' : 'fan not confirmed any more',
      });
      topics.captures.notify();
      return ok({});
    },
  };
}
