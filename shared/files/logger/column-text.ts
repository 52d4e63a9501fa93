import { excerpt } from '../skipped-rows.ts';

/** A column in a sentence: its heading in quotes; its number from 1 where that is blank. */
export const quoted = (name: string, index: number): string =>
  name === '' ? `number ${index + 1}` : `"${excerpt(name)}"`;
