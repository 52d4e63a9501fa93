import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';

type Mine = 'analysis.run' | 'comparison.run' | 'report.make' | 'files.import' | 'files.export';

/** Everything that takes long, done beside the ports. */
export function jobHandlers({ workers, clock, facts, topics }: HostContext): Pick<Handlers<Api>, Mine> {
  const now = () => isoLocal(clock.wallMs());
  return {
    'analysis.run': ({ capture, setup }, signal) => workers.run({ kind: 'analyze', capture, setup }, signal),
    'comparison.run': ({ before, after }, signal) => workers.run({ kind: 'compare', before, after }, signal),
    'report.make': (input, signal) =>
      workers.run({ kind: 'report', ...input, madeAt: now(), version: facts.version }, signal),
    'files.export': (input, signal) => workers.run({ kind: 'export', ...input }, signal),
    'files.import': async (input, signal) => {
      const done = await workers.run({ kind: 'import', ...input, addedAt: now() }, signal);
      topics.captures.notify();
      return done;
    },
  };
}
