import type { BurnerView, CaptureView } from '../../shared/contract/api.ts';

/** Whether the guide may say which way to turn. `why` it may not, in words; absent where there is nothing to set. */
export type SettingAdvice = { mayTurn: true } | { mayTurn: false; why?: string };

/**
 * Whether the pressure may be set now. The host decides, by what its tracker says; before it has said anything nobody knows that gas flows
 * and a flame burns. A visit that is complete has nothing left to set, and one that was interrupted may be of another burner than the one
 * that the meters are on. A set point that contradictory trials have left open is none to go to.
 *
 * @param isUnclear  the target is a set point at which light-off trials contradict each other
 */
export function settingAdvice(
  burner: BurnerView | undefined,
  status: CaptureView['status'] | undefined,
  isUnclear = false,
): SettingAdvice {
  if (status === 'complete') return { mayTurn: false };
  if (!burner) return { mayTurn: false, why: 'It is not known yet what the burner does. Wait.' };
  if (burner.settingRefusal) return { mayTurn: false, why: burner.settingRefusal.message };
  if (status === 'interrupted')
    return { mayTurn: false, why: 'This capture is not being recorded. Continue or complete it before you turn.' };
  if (isUnclear)
    return {
      mayTurn: false,
      why: 'No set point to turn to: light-off trials lit and failed at the same pressure. Find out why and make them again, or type a target.',
    };
  return { mayTurn: true };
}
