import type { BurnerView } from '../../../shared/contract/api.ts';
import { fault } from '../../../shared/model/faults.ts';

/**
 * What is left of the host's word once the connection to it is lost: nothing of what the burner does now. An alarm stays; nobody has said
 * that gas is shut.
 */
export function withoutHost(burner: BurnerView): BurnerView {
  const { code, message } = fault('burner-unknown');
  return {
    ...burner,
    gas: 'unknown',
    flame: 'unknown',
    regulator: 'unknown',
    phase: 'unknown',
    probability: 0,
    settingRefusal: { code, message },
  };
}
