/**
 * Dotted names of the keys that were given but not taken, such as "channels.0.scal".
 * @param given  a value from the outside
 * @param taken  what a schema, which leaves out what it does not know, made of it
 */
export function unknownKeys(given: object, taken: object, prefix = ''): string[] {
  return Object.entries(given).flatMap(([key, value]) => {
    if (!Object.hasOwn(taken, key)) return [`${prefix}${key}`];
    const inner = (taken as Record<string, unknown>)[key];
    return typeof value === 'object' && value !== null && typeof inner === 'object' && inner !== null
      ? unknownKeys(value as object, inner, `${prefix}${key}.`)
      : [];
  });
}

/** What is said of the keys of a file that nobody knows, one sentence each. */
export const unknownKeyNotices = (file: string, given: object, taken: object): string[] =>
  unknownKeys(given, taken).map((key) => `${file}: the key ${key} is not known and was left out.`);
