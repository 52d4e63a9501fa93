import { useQueryClient, type QueryClient } from '@tanstack/react-query';
import type { BurnerFacts } from '../../../shared/model/capture.ts';
import { fault, type Fault } from '../../../shared/model/faults.ts';
import { setupFromFields } from './read-setup-fields.ts';
import { mergeSetup } from './setup-fields.ts';
import { callHost } from '../host-calls.ts';
import { workbenchState, type BurnerFields } from '../workbench.ts';

/** The facts in the burner fields; undefined without a name, which is what lists show. */
export function burnerFacts({ id: _id, ...fields }: BurnerFields): BurnerFacts | undefined {
  const trimmed = Object.fromEntries(
    Object.entries(fields)
      .map(([key, text]) => [key, text.trim()] as const)
      .filter(([key, text]) => key === 'site' || text !== ''),
  ) as unknown as BurnerFacts;
  return trimmed.name ? trimmed : undefined;
}

let saving: Promise<Fault | undefined> = Promise.resolve(undefined);
let savedText = '';

/**
 * Saves the form at the host: the burner with its setup, and the current capture's while that is open. One save at a time,
 * so that a new burner is not created twice. Gives the fault when something could not be saved.
 */
export function saveForm(client: QueryClient): Promise<Fault | undefined> {
  saving = saving.then(() => saveNow(client)).catch((error: unknown) => fault('internal', { what: String(error) }));
  return saving;
}

async function saveNow(client: QueryClient): Promise<Fault | undefined> {
  const { burner, setup: fields, captureId } = workbenchState();
  const { setup } = setupFromFields(fields);
  const facts = burnerFacts(burner);
  const text = JSON.stringify([burner.id, facts, setup, captureId]);
  if (text === savedText) return undefined;

  let id = burner.id;
  if (facts) {
    const saved = await callHost('burners.save', { ...(id !== undefined && { id }), ...facts, setup });
    if (!saved.ok) return saved.fault;
    id = saved.value.id;
    workbenchState().changeBurner({ id });
    await client.invalidateQueries({ queryKey: ['burners.list'] });
  }
  if (captureId !== undefined) {
    const view = await callHost('captures.get', { capture: captureId });
    if (!view.ok) return view.fault;
    if (view.value.status !== 'complete') {
      const changed = await callHost('captures.setup', {
        capture: captureId,
        setup: mergeSetup(view.value.setup, setup),
      });
      if (!changed.ok) return changed.fault;
      if (id !== undefined) {
        const named = await callHost('captures.burner', { capture: captureId, burnerId: id });
        if (!named.ok) return named.fault;
      }
    }
  }
  savedText = JSON.stringify([id, facts, setup, captureId]);
  return undefined;
}

/** `saveForm` for a component that does not show its fault. */
export function useSaveForm(): () => void {
  const client = useQueryClient();
  return () => void saveForm(client);
}
