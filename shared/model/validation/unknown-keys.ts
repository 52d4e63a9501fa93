/**
 * Dotted names of the keys that a schema does not know, such as "channels.0.scal".
 * @param input  the value before parsing
 * @param parsed  the value after parsing with a schema that drops unknown keys
 */
export function unknownKeys(input: object, parsed: object, prefix = ''): string[] {
  return Object.entries(input).flatMap(([key, value]) => {
    if (!Object.hasOwn(parsed, key)) return [`${prefix}${key}`];
    const inner = (parsed as Record<string, unknown>)[key];
    return typeof value === 'object' && value !== null && typeof inner === 'object' && inner !== null
      ? unknownKeys(value as object, inner, `${prefix}${key}.`)
      : [];
  });
}

/** Notices about the unknown keys of a file, one sentence each. */
export const unknownKeyNotices = (file: string, input: object, parsed: object): string[] =>
  unknownKeys(input, parsed).map((key) => `${file}: the key ${key} is not recognized and was ignored.`);
