import { useQueryClient } from '@tanstack/react-query';
import type { Fault } from '../../shared/model/faults.ts';
import { useState } from 'react';
import { setupFromFields } from './setup/read-setup-fields.ts';
import { useHostAction } from './host-calls.ts';
import { workbenchState } from './workbench.ts';
import { saveForm } from './setup/save-form.ts';

/** Starts a new capture with the burner and setup of the form, which is saved first. */
export function useStartRecording() {
  const client = useQueryClient();
  const start = useHostAction('captures.start');
  const [saveFault, setSaveFault] = useState<Fault>();
  const run = async () => {
    const refused = await saveForm(client);
    setSaveFault(refused);
    if (refused) return;
    const { burner, technician, setup } = workbenchState();
    const started = await start.run({
      ...(burner.id !== undefined && { burnerId: burner.id }),
      ...(technician.trim() !== '' && { technician: technician.trim() }),
      setup: setupFromFields(setup).setup,
    });
    if (started) workbenchState().change({ captureId: started.capture, earlierId: undefined });
  };
  return { run, fault: saveFault ?? start.fault, busy: start.busy };
}
