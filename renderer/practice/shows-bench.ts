import { isPracticePort } from '../../shared/model/ports/practice-port.ts';

/**
 * Whether the practice bench may be shown: never beside real meters, nor beside an alarm that is not of its own burner, where its invented
 * flame could be taken for the real one.
 *
 * @param meters  the connected ones; undefined while the host has not said
 */
export function showsBench(meters: readonly { port: string }[] | undefined, hasAlarm: boolean): boolean {
  if (meters?.some(({ port }) => isPracticePort(port))) return true;
  return !hasAlarm && meters?.length === 0;
}
