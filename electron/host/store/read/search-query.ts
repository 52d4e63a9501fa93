// What the tokenizer of the index makes words of: letters, digits, and what a font may have of its own. Source: SQLite, "FTS5
// Extension", section 4.3.1, unicode61.
const words = /[\p{L}\p{N}\p{Co}]/u;
// Half of all days and ids have a word that begins with a given digit or two: "boiler 12" means the boiler.
const leastOfDayOrId = 4;

/**
 * The query of the full-text index for what a person typed: every word has to begin a word of the capture, in any order. Signs of its
 * query language count as plain text. Ids and days are searched for words of four characters or more. Undefined when there is no word in it, and so everything is meant.
 * Source: SQLite, "FTS5 Extension", sections 3.1 to 3.3: a string in double quotes, in which they are doubled; prefix; column filter.
 */
export function searchQuery(typed: string): string | undefined {
  const terms = typed
    .replaceAll('\0', ' ')
    .split(/\s+/u)
    .filter((term) => words.test(term));
  return terms.length === 0 ? undefined : terms.map(termQuery).join(' ');
}

function termQuery(term: string): string {
  const prefix = `"${term.replaceAll('"', '""')}" *`;
  return Array.from(term).length < leastOfDayOrId ? `- {id day} : ${prefix}` : prefix;
}
