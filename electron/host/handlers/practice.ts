import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';
import { watch } from '../topic.ts';

const liveEveryMs = 100;

export function practiceHandlers({ practice }: HostContext): Pick<Handlers<Api>, 'practice.live' | 'practice.act'> {
  return {
    'practice.live': async function* (_input, signal) {
      if (!practice) return fault('practice-off');
      yield* watch(practice.topic, liveEveryMs, signal, () => practice.state());
      return undefined;
    },
    'practice.act': async (action) => {
      if (!practice) return fail(fault('practice-off'));
      const refusal = practice.act(action);
      return refusal ? fail(refusal) : ok({});
    },
  };
}
