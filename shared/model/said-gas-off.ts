import type { Mark } from './capture.ts';

/** How the text of a mark begins whose gas no meter showed to be shut: the technician looked at valve and hose, and said so. */
export const saidGasOff = 'The technician said so';

/** Whether a mark says that gas is off and the manometer's hose on by the technician's word, from which moment the manometer is believed. */
export const isSaidGasOff = ({ kind, text }: Pick<Mark, 'kind' | 'text'>): boolean =>
  kind === 'gas-shut' && text.startsWith(saidGasOff);
