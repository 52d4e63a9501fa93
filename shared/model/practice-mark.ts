import { isPracticePort } from './ports/practice-port.ts';

/** What stands on everything that comes from an invented burner, so that nobody takes it for the proof of a real one. */
export const practiceMark = 'PRACTICE, an invented burner';

/**
 * Whether a capture is practice: it says so itself, or something in it came from the practice bench. The only place that decides
 * this. The ports are asked as well as the capture's own field, because files made before there was that field have only them.
 *
 * @param of  a capture, or as much of it as is known
 */
export const isPractice = (of: {
  practice?: boolean | undefined;
  meters?: readonly { port: string }[];
  lines?: readonly { port: string }[];
}): boolean =>
  of.practice === true ||
  (of.meters ?? []).some(({ port }) => isPracticePort(port)) ||
  (of.lines ?? []).some(({ port }) => isPracticePort(port));
