import { useQueryClient } from '@tanstack/react-query';
import { createContext, useCallback, useContext, useEffect, useMemo, useState } from 'react';
import type { Fault } from '../../shared/model/faults.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { saveForm } from '../state/save-form.ts';
import { fieldsFromSetup, setupFromFields, type SetupFields, type SetupProblems } from '../state/setup-fields.ts';

export interface SetupForm {
  fields: SetupFields;
  problems: SetupProblems;
  /** A complete capture is not changed any more: its values are shown and cannot be edited. */
  isFixed: boolean;
  change: (part: Partial<SetupFields>) => void;
  /** Hands what was typed to the host; when a field is left, and once more when the place is. */
  keep: () => void;
}

export const SetupFormContext = createContext<SetupForm | undefined>(undefined);

export function useSetupForm(): SetupForm {
  const form = useContext(SetupFormContext);
  if (!form) throw new Error('a setup field must be inside the burner form');
  return form;
}

/** The form of the burner place: what is typed, what is wrong with it, and the keeping of it. */
export function useBurnerForm(): SetupForm & { fault: Fault | undefined } {
  const client = useQueryClient();
  const capture = useCapture();
  const typed = useWorkbench((bench) => bench.setup);
  const change = useWorkbench((bench) => bench.changeSetup);
  const [fault, setFault] = useState<Fault>();
  const isFixed = capture?.status === 'complete';
  const fields = useMemo(() => (isFixed ? fieldsFromSetup(capture.setup) : typed), [isFixed, capture, typed]);
  const problems = useMemo(() => setupFromFields(fields).problems, [fields]);
  const keep = useCallback(() => {
    if (!isFixed) void saveForm(client).then(setFault);
  }, [client, isFixed]);
  useEffect(() => () => keep(), [keep]);
  return { fields, problems, isFixed, change, keep, fault };
}
