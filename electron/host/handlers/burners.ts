import { randomUUID } from 'node:crypto';
import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';
import { findBurner, listBurners, putBurner } from '../store/burners.ts';

export function burnerHandlers({ store, topics }: HostContext): Pick<Handlers<Api>, 'burners.list' | 'burners.save'> {
  return {
    'burners.list': async () => ok(listBurners(store.db)),
    'burners.save': async ({ id, ...burner }) => {
      if (id !== undefined && !findBurner(store.db, id)) return fail(fault('burner-missing'));
      const burnerId = id ?? randomUUID();
      putBurner(store.db, { id: burnerId, ...burner });
      topics.captures.notify(); // a search finds them by the new name
      return ok({ id: burnerId });
    },
  };
}
