import { useMemo } from 'react';
import type { Setup } from '../../shared/model/setup.ts';
import { setupFromFields } from './setup-fields.ts';
import { useWorkbench } from './workbench.ts';
import { useCapture } from './current-capture.ts';

/** What is asked of the burner: as the capture at hand has it, else as it stands in the fields for the next one. */
export function useCurrentSetup(): Setup {
  const capture = useCapture();
  const fields = useWorkbench((bench) => bench.setup);
  return useMemo(() => capture?.setup ?? setupFromFields(fields).setup, [capture, fields]);
}
