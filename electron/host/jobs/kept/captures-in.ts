import type { Capture } from '../../../../shared/model/capture.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import type { Store } from '../../store/open.ts';
import type { CaptureRow } from '../../store/read/capture-rows.ts';
import { findRow } from '../../store/read/capture-rows.ts';
import { readCapture } from '../../store/read/read-capture.ts';
import { contentKey } from './content-key.ts';
import { engineVersion } from './engine-version.ts';
import { type KeptResults, resultKey } from './kept-results.ts';

/** The captures of a store in one state of it, each read once, and what is computed from them, each computed once for all time. */
export interface Captures {
  load(id: string): Outcome<Capture>;
  /**
   * What `compute` makes of captures, as a computation that needs the store no more. A result of the same name, of captures with the
   * same content, with the same `setup` and by the same program is taken as it was kept. One of a capture that is being recorded is not
   * kept: it is another with each reading.
   */
  result<T>(
    name: string,
    ids: string[],
    compute: (...captures: [Capture, Capture]) => Outcome<T>,
    setup?: Setup,
  ): Outcome<() => Promise<Outcome<T>>>;
}

/** To be used within one transaction. Fails with `capture-missing` or `capture-ambiguous`. */
export function capturesIn({ db }: Store, kept: KeptResults, version = engineVersion): Captures {
  const loaded = new Map<string, Outcome<Capture>>();
  const find = (id: string): Outcome<CaptureRow> => {
    const row = findRow(db, id);
    if (row === 'missing') return fail(fault('capture-missing', { capture: id }));
    if (row === 'ambiguous') return fail(fault('capture-ambiguous', { capture: id }));
    return ok(row);
  };
  const load = (id: string): Outcome<Capture> => {
    const known = loaded.get(id);
    if (known) return known;
    const row = find(id);
    const capture = row.ok ? ok(readCapture(db, row.value)) : row;
    loaded.set(id, capture);
    return capture;
  };
  return {
    load,
    result<T>(name: string, ids: string[], compute: (...captures: [Capture, Capture]) => Outcome<T>, setup?: Setup) {
      const contents: string[] = [];
      for (const id of ids) {
        const row = find(id);
        if (!row.ok) return row;
        if (row.value.status !== 'recording') contents.push(contentKey(db, row.value));
      }
      const key = contents.length === ids.length ? resultKey(name, version(), contents, setup) : undefined;
      const before = key === undefined ? undefined : (kept.read(key) as T | undefined);
      if (before !== undefined) return ok(async () => ok(before));
      const captures: Capture[] = [];
      for (const id of ids) {
        const capture = load(id);
        if (!capture.ok) return capture;
        captures.push(capture.value);
      }
      return ok(async () => {
        const outcome = compute(...(captures as [Capture, Capture]));
        return key === undefined ? outcome : await kept.keep(key, outcome);
      });
    },
  };
}
