import { useMemo } from 'react';
import type { Setup } from '../../../shared/model/setup.ts';
import { setupFromFields } from './read-setup-fields.ts';
import { useWorkbench } from '../workbench.ts';
import { useCapture } from '../current-capture.ts';

/** The setup in force: that of the current capture, else what the form holds for the next one. */
export function useCurrentSetup(): Setup {
  const capture = useCapture();
  const fields = useWorkbench((state) => state.setup);
  return useMemo(() => capture?.setup ?? setupFromFields(fields).setup, [capture, fields]);
}
