import { callHost, type CallInput } from '../state/host-calls.ts';

/** Does something at the practice bench; what it changes comes back with the bench's state. */
export const act = (action: CallInput<'practice.act'>) => void callHost('practice.act', action);
