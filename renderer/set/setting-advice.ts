import { meterFault } from '../../shared/burner-state/meters/meter-fault.ts';
import type { BurnerView, CaptureView } from '../../shared/contract/api.ts';

/** Whether the guide may say which way to turn. `why` it may not, in words; absent where there is nothing to set. */
export type SettingAdvice = { mayTurn: true } | { mayTurn: false; why?: string };

/**
 * Whether the pressure may be set now. The host decides, by what its tracker says; before it has said anything nobody knows that gas flows
 * and a flame burns. A visit that is complete has nothing left to set, and one that was interrupted may be of another burner than the one
 * that the meters are on.
 *
 * @param isSignalBlank  the flame signal is no longer shown; the host calls its meter silent only once it has missed several readings
 * @param withheld       why the calculated set point is none to go to; undefined where it is, or where a target was typed
 */
export function settingAdvice(
  burner: BurnerView | undefined,
  status: CaptureView['status'] | undefined,
  { isSignalBlank = false, withheld }: { isSignalBlank?: boolean; withheld?: Withheld | undefined } = {},
): SettingAdvice {
  if (status === 'complete') return { mayTurn: false };
  if (!burner) return { mayTurn: false, why: 'It is not known yet what the burner does. Wait.' };
  if (burner.settingRefusal) return { mayTurn: false, why: burner.settingRefusal.message };
  if (isSignalBlank) return { mayTurn: false, why: meterFault('flame signal meter', { kind: 'silent' }).message };
  if (status === 'interrupted')
    return { mayTurn: false, why: 'This capture is not being recorded. Continue or complete it before you turn.' };
  return withheld ? { mayTurn: false, why: withheldWords[withheld] } : { mayTurn: true };
}

/** Why a set point is not shown: a sweep is still being recorded, the calculation is not over, or trials contradict each other. */
export type Withheld = 'sweeping' | 'calculating' | 'unclear';
const withheldWords: Record<Withheld, string> = {
  sweeping: 'A sweep is being recorded. End it first: the set point follows from it.',
  calculating: 'Calculating the set point… Do not turn yet.',
  unclear:
    'No set point to turn to: light-off trials lit and failed at the same pressure. Find out why and make them again, or type a target.',
};

/** Why the calculated set point is not to be shown now; undefined when it rests on all that is on record. */
export function withheldSetPoint(facts: {
  isSweeping: boolean;
  isCalculating: boolean;
  isUnclear: boolean;
}): Withheld | undefined {
  if (facts.isSweeping) return 'sweeping';
  if (facts.isCalculating) return 'calculating';
  return facts.isUnclear ? 'unclear' : undefined;
}
