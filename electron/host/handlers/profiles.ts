import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { builtInProfile } from '../../../shared/instruments/built-in.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';
import { listProfiles, putProfile, removeProfile } from '../store/profiles.ts';

type ProfileCalls = 'profiles.list' | 'profiles.save' | 'profiles.remove';

export function profileHandlers({ store }: HostContext): Pick<Handlers<Api>, ProfileCalls> {
  return {
    'profiles.list': async () => ok(listProfiles(store.db)),
    'profiles.save': async ({ profile }) => {
      const checked = checkProfile(profile, profile.name);
      if (!checked.ok) return checked;
      if (builtInProfile(profile.name))
        return fail(
          fault('profile-invalid', {
            profile: profile.name,
            problems: 'a built-in profile has this name; choose another',
          }),
        );
      putProfile(store.db, checked.value);
      return ok({});
    },
    'profiles.remove': async ({ name }) =>
      removeProfile(store.db, name) ? ok({}) : fail(fault('profile-missing', { profile: name })),
  };
}
