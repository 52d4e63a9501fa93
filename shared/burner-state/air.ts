import type { Mark } from '../model/capture.ts';

/** Pressure of a fan that moves air, inH2O: above what a gauge shows at rest. */
export const leastFanPressure = 0.05;

/** What is known of air through the furnace. */
export interface Air {
  /** A fan-pressure channel shows moving air; undefined where none is wired. */
  shown: boolean | undefined;
  /** The technician has confirmed that the fan runs. */
  confirmed: boolean;
}

/** Whether air is known to move. What a wired fan pressure shows outweighs what was confirmed. */
export const airMoves = ({ shown, confirmed }: Air): boolean => shown ?? confirmed;

/**
 * Whether the technician had confirmed that the fan runs, moment after moment: from a mark `air-confirmed` until `air-stopped`.
 *
 * @returns the answer at a time of the capture, seconds; times must not go back
 */
export function confirmedAir(marks: readonly Mark[]): (atS: number) => boolean {
  const own = marks
    .filter(({ kind }) => kind === 'air-confirmed' || kind === 'air-stopped')
    .sort((a, b) => a.elapsedS - b.elapsedS);
  let next = 0;
  let confirmed = false;
  return (atS) => {
    for (; next < own.length && own[next]!.elapsedS <= atS; next += 1) confirmed = own[next]!.kind === 'air-confirmed';
    return confirmed;
  };
}
