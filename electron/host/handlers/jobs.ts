import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';

type JobCalls = 'analysis.run' | 'advice.get' | 'comparison.run' | 'report.make' | 'files.import' | 'files.export';

/** Everything that takes long, run in processes of its own so that the ports are not held up. */
export function jobHandlers({ jobs, clock, facts, topics }: HostContext): Pick<Handlers<Api>, JobCalls> {
  const now = () => isoLocal(clock.wallMs());
  return {
    'analysis.run': ({ capture, setup }, signal) => jobs.run({ kind: 'analyze', capture, setup }, signal),
    'advice.get': ({ capture }, signal) => jobs.run({ kind: 'advise', capture }, signal),
    'comparison.run': ({ before, after }, signal) => jobs.run({ kind: 'compare', before, after }, signal),
    'report.make': (input, signal) =>
      jobs.run({ kind: 'report', ...input, madeAt: now(), version: facts.version }, signal),
    'files.export': (input, signal) => jobs.run({ kind: 'export', ...input }, signal),
    'files.import': async (input, signal) => {
      const outcome = await jobs.run({ kind: 'import', ...input, addedAt: now() }, signal);
      topics.captures.notify();
      return outcome;
    },
  };
}
