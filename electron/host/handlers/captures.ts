import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { continueCapture, finishCapture, startCapture } from '../capture/capture-lifecycle.ts';
import { viewCapture } from '../capture/capture-view.ts';
import { captureRow, openRow } from '../capture/lifecycle-rows.ts';
import { recoverOrphans } from '../capture/orphans.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';
import { factsOf, findBurner } from '../store/burners.ts';
import { addNote, setBurner, setSetup } from '../store/captures.ts';
import { allCaptures, listVersion, unfinishedCaptures } from '../store/read/list-captures.ts';
import { watch } from '../topic.ts';

type CaptureCalls =
  | 'captures.list'
  | 'captures.page'
  | 'captures.changes'
  | 'captures.get'
  | 'captures.live'
  | 'captures.start'
  | 'captures.continue'
  | 'captures.finish'
  | 'captures.setup'
  | 'captures.burner'
  | 'captures.note';

const neverAborted = new AbortController().signal;

// Counts and times of a capture change with every batch; five updates a second look smooth enough.
const liveEveryMs = 200;
const changesEveryMs = 500;

export function captureHandlers(context: HostContext): Pick<Handlers<Api>, CaptureCalls> {
  const { store, owner, clock, topics, lists } = context;
  return {
    'captures.list': async () => {
      recoverOrphans(store.db, owner, clock.wallMs());
      return ok(allCaptures(store.db));
    },
    // A page takes a few milliseconds: it is not aborted, which would end its process.
    'captures.page': (request) => lists.run({ kind: 'list', ...request }, neverAborted),
    'captures.changes': async function* (_input, signal) {
      let last: number | undefined;
      for await (const version of watch(topics.captures, changesEveryMs, signal, () => listVersion(store.db))) {
        if (version === last) continue;
        last = version;
        yield { version, unfinished: unfinishedCaptures(store.db) };
      }
      return undefined;
    },
    'captures.get': async ({ capture }) => {
      const found = captureRow(context, capture);
      return found.ok ? ok(viewCapture(context, found.value)) : found;
    },
    'captures.live': async function* ({ capture }, signal) {
      for await (const found of watch(topics.captures, liveEveryMs, signal, () => captureRow(context, capture))) {
        if (!found.ok) return found.fault;
        yield viewCapture(context, found.value);
      }
      return undefined;
    },
    'captures.start': async (input) => startCapture(context, input),
    'captures.continue': async ({ capture }) => continueCapture(context, capture),
    'captures.finish': async ({ capture, interrupted }) => finishCapture(context, capture, interrupted),
    'captures.setup': async ({ capture, setup }) => {
      const found = openRow(context, capture);
      if (!found.ok) return found;
      setSetup(store.db, found.value.key, setup);
      topics.captures.notify();
      return ok({});
    },
    'captures.burner': async ({ capture, burnerId }) => {
      const found = openRow(context, capture);
      if (!found.ok) return found;
      const burner = findBurner(store.db, burnerId);
      if (!burner) return fail(fault('burner-missing'));
      setBurner(store.db, found.value.key, burner.id, factsOf(burner));
      topics.captures.notify();
      return ok({});
    },
    'captures.note': async ({ capture, by, text }) => {
      const found = captureRow(context, capture);
      if (!found.ok) return found;
      addNote(store.db, found.value.key, { at: isoLocal(clock.wallMs()), by, text });
      topics.captures.notify();
      return ok({});
    },
  };
}
