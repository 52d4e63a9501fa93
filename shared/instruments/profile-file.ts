import { fault } from '../model/faults.ts';
import type { Outcome } from '../model/outcome.ts';
import { fail, ok } from '../model/outcome.ts';
import { readJson } from '../model/validation/json-text.ts';
import type { Profile } from '../model/profile.ts';
import { unknownKeyNotices } from '../model/validation/unknown-keys.ts';
import { checkProfile } from './check-profile.ts';

/**
 * Reads a profile file. Unknown keys are left out, with a notice.
 * Fails with `profile-invalid`: where the JSON is broken, or every problem of the profile.
 * @param file  its name, for messages
 */
export function readProfile({ file, text }: { file: string; text: string }): Outcome<{
  profile: Profile;
  notices: string[];
}> {
  const read = readJson(text);
  if (!read.ok) return fail(fault('profile-invalid', { profile: file, problems: read.problem }));
  const checked = checkProfile(read.value, file);
  if (!checked.ok) return checked;
  const { line, poll } = checked.value;
  const unused =
    line.format === 'modbus-rtu' && poll?.send !== undefined
      ? [`${file}: poll.send is not used: modbus-rtu makes its own requests.`]
      : [];
  return ok({
    profile: checked.value,
    notices: [...unknownKeyNotices(file, read.value as object, checked.value), ...unused],
  });
}
