import { fault } from '../../model/faults.ts';
import { Mapping } from '../../model/logger/mapping.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { issueMessage } from '../../model/validation/issue-message.ts';
import { readJson } from '../../model/validation/json-text.ts';
import { unknownKeyNotices } from '../../model/validation/unknown-keys.ts';
import type { NamedText } from '../setup-file.ts';

/** Reads the file of `--map`. Unknown keys are left out, with a notice. Fails with `map-invalid`. */
export function readMapping({ file, text }: NamedText): Outcome<{ mapping: Mapping; notices: string[] }> {
  const json = readJson(text);
  if (!json.ok) return fail(fault('map-invalid', { file, problems: json.problem }));
  const read = Mapping.safeParse(json.value);
  if (!read.success)
    return fail(fault('map-invalid', { file, problems: read.error.issues.map(issueMessage).join('; ') }));
  return ok({ mapping: read.data, notices: unknownKeyNotices(file, json.value as object, read.data) });
}
