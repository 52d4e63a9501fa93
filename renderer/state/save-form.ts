import { useQueryClient, type QueryClient } from '@tanstack/react-query';
import type { BurnerFacts } from '../../shared/model/capture.ts';
import { fault, type Fault } from '../../shared/model/faults.ts';
import { mergeSetup, setupFromFields } from './setup-fields.ts';
import { callHost } from './host-calls.ts';
import { workbenchState, type BurnerFields } from './workbench.ts';

/** The facts that a burner's fields hold; undefined without a name, which is what lists show. */
export function burnerFacts({ id: _id, ...fields }: BurnerFields): BurnerFacts | undefined {
  const trimmed = Object.fromEntries(
    Object.entries(fields)
      .map(([key, text]) => [key, text.trim()] as const)
      .filter(([key, text]) => key === 'site' || text !== ''),
  ) as unknown as BurnerFacts;
  return trimmed.name ? trimmed : undefined;
}

let keeping: Promise<Fault | undefined> = Promise.resolve(undefined);
let keptText = '';

/**
 * Hands what stands in the burner's fields to the host: the burner with what is asked of it, and the capture at hand
 * while it is open. One at a time, so that a new burner is not made twice. Gives the fault when it could not be kept.
 */
export function saveForm(client: QueryClient): Promise<Fault | undefined> {
  keeping = keeping.then(() => keepNow(client)).catch((error: unknown) => fault('internal', { what: String(error) }));
  return keeping;
}

async function keepNow(client: QueryClient): Promise<Fault | undefined> {
  const { burner, setup: fields, captureId } = workbenchState();
  const { setup } = setupFromFields(fields);
  const facts = burnerFacts(burner);
  const text = JSON.stringify([burner.id, facts, setup, captureId]);
  if (text === keptText) return undefined;

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
      const kept = await callHost('captures.setup', { capture: captureId, setup: mergeSetup(view.value.setup, setup) });
      if (!kept.ok) return kept.fault;
      if (id !== undefined) {
        const named = await callHost('captures.burner', { capture: captureId, burnerId: id });
        if (!named.ok) return named.fault;
      }
    }
  }
  keptText = JSON.stringify([id, facts, setup, captureId]);
  return undefined;
}

/** `keepForm` for a component; what goes wrong is seen at the burner place. */
export function useSaveForm(): () => void {
  const client = useQueryClient();
  return () => void saveForm(client);
}
