import { fault } from '../model/faults.ts';
import { readJson } from '../model/validation/json-text.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { issueMessage } from '../model/validation/issue-message.ts';
import { Setup } from '../model/setup.ts';
import { unknownKeyNotices } from '../model/validation/unknown-keys.ts';

/** The text of a file; its name is used in messages only. */
export interface NamedText {
  file: string;
  text: string;
}

/**
 * Reads `NAME.setup.json`. Unknown keys are left out, with a notice.
 * Fails with `setup-invalid`, which names each wrong key and what it may be.
 */
export function readSetup({ file, text }: NamedText): Outcome<{ setup: Setup; notices: string[] }> {
  const parsed = readJson(text);
  if (!parsed.ok) return fail(fault('setup-invalid', { file, problems: parsed.problem }));
  const json = parsed.value;
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    return fail(fault('setup-invalid', { file, problems: 'it must be one JSON object' }));
  const read = Setup.safeParse(json);
  if (!read.success)
    return fail(fault('setup-invalid', { file, problems: read.error.issues.map(issueMessage).join('; ') }));
  return ok({ setup: read.data, notices: unknownKeyNotices(file, json, read.data) });
}

/** The setup as the text of such a file. */
export const writeSetup = (setup: Setup): string => `${JSON.stringify(setup, undefined, 2)}\n`;
