/** Items as a person lists them: "a", "a and b", "a, b and c". */
export const listWords = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
