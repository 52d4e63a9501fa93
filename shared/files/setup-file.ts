import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { problemInWords } from '../model/problem-in-words.ts';
import { Setup } from '../model/setup.ts';

/** A file as it was read: its name is used in sentences only. */
export interface NamedText {
  file: string;
  text: string;
}

/**
 * Reads `NAME.setup.json`. Unknown keys are told as notices and left out.
 * Fails with `setup-invalid`, naming each key and what it may be.
 */
export function readSetup({ file, text }: NamedText): Outcome<{ setup: Setup; notices: string[] }> {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return fail(fault('setup-invalid', { file, problems: 'it is not JSON' }));
  }
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    return fail(fault('setup-invalid', { file, problems: 'it must be one JSON object' }));
  const read = Setup.safeParse(json);
  if (!read.success)
    return fail(fault('setup-invalid', { file, problems: read.error.issues.map(problemInWords).join('; ') }));
  const notices = unknownKeys(json, read.data).map((key) => `${file}: the key ${key} is not known and was left out.`);
  return ok({ setup: read.data, notices });
}

/** The setup as the file holds it. */
export const writeSetup = (setup: Setup): string => `${JSON.stringify(setup, undefined, 2)}\n`;

/** Dotted names of the keys that were given but not taken. */
function unknownKeys(given: object, taken: object, prefix = ''): string[] {
  return Object.entries(given).flatMap(([key, value]) => {
    if (!Object.hasOwn(taken, key)) return [`${prefix}${key}`];
    const inner = (taken as Record<string, unknown>)[key];
    return typeof value === 'object' && value !== null && typeof inner === 'object' && inner !== null
      ? unknownKeys(value, inner, `${prefix}${key}.`)
      : [];
  });
}
