/** What `validTrials` needs to know of an entry; absent: a trial that counts. */
interface Entry {
  status?: 'valid' | 'void' | undefined;
  corrects?: number | undefined;
}

/**
 * The trials that count, of the whole record of a capture in the order of its entries.
 *
 * An entry that names another by `corrects` (its place in the record, from 1) is about the same trial. Of all entries about one trial
 * the last counts, and when that is void, none does. A correction takes the place of the trial in the order, so that the trials stay in
 * the order in which they were made.
 */
export function validTrials<T extends object>(entries: readonly (T & Entry)[]): T[] {
  const latest = new Map<number, T & Entry>();
  const firsts: number[] = [];
  for (const [i, entry] of entries.entries()) {
    // An entry cannot correct one that comes after it.
    const { corrects } = entry;
    const first = corrects !== undefined && corrects <= i ? (firsts[corrects - 1] ?? i) : i;
    firsts.push(first);
    latest.set(first, entry);
  }
  return [...latest.values()].filter(({ status }) => status !== 'void');
}
