import type { Fault } from '../../shared/model/faults.ts';
import type { CallOutput } from '../state/host-calls.ts';
import { Notice } from '../ui/Notice.tsx';

/** What came of the last import: captures, what of the files was left out, and files that could not be used. */
export function ImportResult({
  done,
  fault,
}: {
  done: CallOutput<'files.import'> | undefined;
  fault?: Fault | undefined;
}) {
  const added = done?.captures.filter((capture) => capture.added).length ?? 0;
  const alreadyStored = (done?.captures.length ?? 0) - added;
  return (
    <>
      {fault?.code === 'cancelled' ? (
        <Notice tone="plain" text="Stopped. Captures that were complete before are in the list." />
      ) : (
        fault && <Notice tone="bad" text={fault.message} />
      )}
      {done?.problems.map((problem) => (
        <Notice key={problem.message} tone="bad" text={problem.message} />
      ))}
      {done?.captures.flatMap(({ id, notices }) =>
        (notices ?? []).map((notice) => <Notice key={id + notice} tone="warning" text={notice} />),
      )}
      {added > 0 && <Notice tone="good" text={added === 1 ? 'One capture added.' : `${added} captures added.`} />}
      {alreadyStored > 0 && (
        <Notice
          tone="plain"
          text={
            alreadyStored === 1
              ? 'One capture was already in the store.'
              : `${alreadyStored} captures were already in the store.`
          }
        />
      )}
    </>
  );
}
