import { useQueryClient } from '@tanstack/react-query';
import { createContext, useCallback, useContext, useEffect, useMemo, useState } from 'react';
import type { Fault } from '../../shared/model/faults.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { saveForm } from '../state/setup/save-form.ts';
import { setupFromFields, type SetupProblems } from '../state/setup/read-setup-fields.ts';
import { fieldsFromSetup, type SetupFields } from '../state/setup/setup-fields.ts';

export interface SetupForm {
  fields: SetupFields;
  problems: SetupProblems;
  /** The values of a complete capture are shown, but cannot be edited. */
  isFixed: boolean;
  change: (part: Partial<SetupFields>) => void;
  /** Saves what was typed; to be called when a field loses focus. Leaving the place saves too. */
  save: () => void;
}

export const SetupFormContext = createContext<SetupForm | undefined>(undefined);

export function useSetupForm(): SetupForm {
  const form = useContext(SetupFormContext);
  if (!form) throw new Error('a setup field must be inside the burner form');
  return form;
}

/** The form of the burner place: what is typed, what is wrong with it, and how it is saved. */
export function useBurnerForm(): SetupForm & { fault: Fault | undefined } {
  const client = useQueryClient();
  const capture = useCapture();
  const typed = useWorkbench((state) => state.setup);
  const change = useWorkbench((state) => state.changeSetup);
  const [fault, setFault] = useState<Fault>();
  const isFixed = capture?.status === 'complete';
  const fields = useMemo(() => (isFixed ? fieldsFromSetup(capture.setup) : typed), [isFixed, capture, typed]);
  const problems = useMemo(() => setupFromFields(fields).problems, [fields]);
  const save = useCallback(() => {
    if (!isFixed) void saveForm(client).then(setFault);
  }, [client, isFixed]);
  useEffect(() => () => save(), [save]);
  return { fields, problems, isFixed, change, save, fault };
}
