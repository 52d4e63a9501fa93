import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';
import type { JobProgress } from '../jobs/jobs.ts';
import { Topic, watch } from '../topic.ts';

type JobCalls =
  | 'analysis.run'
  | 'advice.get'
  | 'comparison.run'
  | 'report.make'
  | 'files.import'
  | 'files.preview'
  | 'files.progress'
  | 'files.export';

const progressEveryMs = 100;

/** Everything that takes long, run in processes of its own so that the ports are not held up. */
export function jobHandlers({ jobs, clock, facts, topics }: HostContext): Pick<Handlers<Api>, JobCalls> {
  const now = () => isoLocal(clock.wallMs());
  const progressed = new Topic();
  let progress: JobProgress | undefined;
  return {
    'analysis.run': ({ capture, setup }, signal) => jobs.run({ kind: 'analyze', capture, setup }, signal),
    'advice.get': ({ capture }, signal) => jobs.run({ kind: 'advise', capture }, signal),
    'comparison.run': ({ before, after }, signal) => jobs.run({ kind: 'compare', before, after }, signal),
    'report.make': (input, signal) =>
      jobs.run({ kind: 'report', ...input, madeAt: now(), version: facts.version }, signal),
    'files.export': (input, signal) => jobs.run({ kind: 'export', ...input }, signal),
    'files.import': async (input, signal) => {
      const show = (next: JobProgress | undefined) => {
        progress = next;
        progressed.notify();
      };
      const outcome = await jobs.run({ kind: 'import', ...input, addedAt: now() }, signal, show);
      show(undefined);
      topics.captures.notify();
      return outcome;
    },
    'files.preview': (input, signal) => jobs.run({ kind: 'preview', ...input }, signal),
    'files.progress': async function* (_input, signal) {
      for await (const shown of watch(progressed, progressEveryMs, signal, () => progress)) yield shown ?? {};
      return undefined;
    },
  };
}
