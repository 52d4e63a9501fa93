import type { Flag } from '../../shared/model/reading.ts';

/** What is shown in place of a number that the meter, or the reading of its line, flagged. */
export const flagWords: Record<Flag, string> = {
  overload: 'Overload',
  unreadable: 'Unreadable',
  'too-long': 'Line too long',
  'unit-unknown': 'Unknown unit',
};
