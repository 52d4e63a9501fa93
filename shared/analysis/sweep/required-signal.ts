/** The signal that a pressure must reach to be good, in the signal's unit, and what asks for it. */
export interface RequiredSignal {
  value: number;
  basis: 'minimum-signal' | 'drop-fraction';
}

/**
 * Required signal: max(minimumSignal, (1 - signalDropFraction) x plateau).
 *
 * @param plateau, minimum  in the signal's unit; `minimum` undefined where none is asked for
 */
export function requiredSignal(plateau: number, dropFraction: number, minimum: number | undefined): RequiredSignal {
  const byDrop = (1 - dropFraction) * plateau;
  return minimum !== undefined && minimum >= byDrop
    ? { value: minimum, basis: 'minimum-signal' }
    : { value: byDrop, basis: 'drop-fraction' };
}

/** By how much the required signal follows a plateau that is off by `by`, in the signal's unit: not at all where a minimum is asked for. */
export const requiredShift = ({ value, basis }: RequiredSignal, plateau: number, by: number): number =>
  basis === 'drop-fraction' ? (value / plateau) * by : 0;
