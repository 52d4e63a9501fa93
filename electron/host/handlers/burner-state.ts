import { mayConfirmGasOff } from '../burner/burner-follower.ts';
import { alarmFault } from '../../../shared/burner-state/permissions.ts';
import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { saidGasOff } from '../../../shared/model/said-gas-off.ts';
import type { HostContext } from '../host-context.ts';
import { captureRow } from '../capture/lifecycle-rows.ts';
import { watch } from '../topic.ts';

const liveEveryMs = 200;
const stretchesEveryMs = 500;

export function burnerStateHandlers(
  context: HostContext,
): Pick<Handlers<Api>, 'burner.live' | 'burner.stretches' | 'burner.air' | 'burner.gasOff'> {
  const { burner, burnerHistory, recorder, topics } = context;
  return {
    'burner.live': (_input, signal) => watch(topics.burner, liveEveryMs, signal, () => burner.view()),
    'burner.stretches': async function* ({ capture }, signal) {
      const found = captureRow(context, capture);
      if (!found.ok) return found.fault;
      const { key } = found.value;
      yield* watch(topics.burner, stretchesEveryMs, signal, () => ({ stretches: [...burnerHistory.stretches(key)] }));
      return undefined;
    },
    'burner.air': async ({ confirmed }) => {
      burner.confirmFan(confirmed);
      recorder.mark({
        elapsedS: recorder.elapsedS(),
        kind: confirmed ? 'air-confirmed' : 'air-stopped',
        text: confirmed ? 'fan running' : 'fan no longer confirmed',
      });
      topics.captures.notify();
      return ok({});
    },
    'burner.gasOff': async () => {
      const { alarm, now } = burner.situation();
      if (alarm && !mayConfirmGasOff(alarm, now)) return fail(alarmFault(alarm));
      const isAsked = !alarm && burner.view().purge.mayHaveBurned;
      burner.confirmGasOff();
      // That of an alarm is marked as the alarm ends.
      if (isAsked) {
        recorder.mark({
          elapsedS: recorder.elapsedS(),
          kind: 'gas-shut',
          text: `${saidGasOff}, and that the hose is on.`,
        });
        topics.captures.notify();
      }
      return ok({});
    },
  };
}
