import { setupDefaults, type TrialMethod } from '../model/setup.ts';

/** Whether a test that looks for failures may be chosen: where more than one on a side was agreed. */
export const mayChooseMethod = (mostFailures: number): boolean => mostFailures > 1;

/** The test of the threshold that is to be followed; undefined where none was chosen, or where it may not be. */
export const methodOf = ({
  method,
  mostFailures = setupDefaults.mostFailures,
}: {
  method?: TrialMethod | undefined;
  mostFailures?: number | undefined;
}): TrialMethod | undefined => (mayChooseMethod(mostFailures) ? method : undefined);
