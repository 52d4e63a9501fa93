import { fault } from '../model/faults.ts';
import type { Outcome } from '../model/outcome.ts';
import { fail, ok } from '../model/outcome.ts';
import { issueMessage } from '../model/validation/issue-message.ts';
import { Profile } from '../model/profile.ts';
import { compilePattern } from './pattern/compile-pattern.ts';

/**
 * Checks a profile from outside, so that `createLineDecoder` accepts it.
 * Fails with `profile-invalid` and every problem in words.
 * @param name  of the profile or its file, for messages
 */
export function checkProfile(json: unknown, name: string): Outcome<Profile> {
  const parsed = Profile.safeParse(json);
  if (!parsed.success) {
    const problems = parsed.error.issues.map(issueMessage).join('; ');
    return fail(fault('profile-invalid', { profile: name, problems }));
  }
  const problems = patternProblems(parsed.data);
  if (problems.length > 0)
    return fail(
      fault('profile-invalid', {
        profile: name,
        problems: problems.map((problem) => `line.pattern: ${problem}`).join('; '),
      }),
    );
  return ok(parsed.data);
}

function patternProblems(profile: Profile): string[] {
  if (profile.line.format !== 'pattern') return [];
  const compiled = compilePattern(profile.line.pattern);
  if (!compiled.ok) return [`the pattern cannot be used: ${compiled.problem}`];
  const { names } = compiled.pattern;
  const wanted: string[] = profile.channels.map((channel) => channel.role);
  return [
    ...wanted
      .filter((role) => !names.includes(role))
      .map((role) => `the pattern has no group (?<${role}>...) for its channel ${role}`),
    ...names.filter((name) => !wanted.includes(name)).map((name) => `the group ${name} is none of its channels`),
  ];
}
