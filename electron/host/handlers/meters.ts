import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { fault } from '../../../shared/model/faults.ts';
import { listSerialPorts } from '../acquire/list-ports.ts';
import type { Parts } from '../parts.ts';
import { addMeter } from '../store/captures.ts';
import { findProfile, listProfiles, putProfile } from '../store/profiles.ts';
import { builtInProfile } from '../../../shared/instruments/built-in.ts';
import { watch } from '../topic.ts';

type Mine =
  | 'ports.list'
  | 'profiles.list'
  | 'profiles.save'
  | 'meters.connect'
  | 'meters.disconnect'
  | 'meters.live'
  | 'store.live';

const liveEveryMs = 100;

export function meterHandlers(parts: Parts): Pick<Handlers<Api>, Mine> {
  const { store, meters, recorder, live, practice, sharing, topics } = parts;
  const gap = (text: string) => recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'gap', text });
  return {
    'ports.list': async () => {
      const serial = await listSerialPorts();
      return ok({ ...serial, ports: [...(practice?.ports ?? []), ...serial.ports] });
    },
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
    'meters.connect': async ({ port, profile }) => {
      const found = findProfile(store.db, profile);
      if (!found.ok) return found;
      const connected = await meters.connect(port, found.value);
      if (!connected.ok) return connected;
      const target = recorder.target();
      if (target) {
        addMeter(store.db, target.key, { port, profile });
        gap(`${port} was connected`);
      }
      return ok({});
    },
    'meters.disconnect': async ({ port }) => {
      if (!meters.list().some((meter) => meter.port === port)) return ok({});
      await meters.disconnect(port);
      live.forget(port);
      gap(`${port} was disconnected`);
      return ok({});
    },
    'meters.live': (_input, signal) => watch(topics.meters, liveEveryMs, signal, () => meters.view()),
    'store.live': (_input, signal) =>
      watch(topics.store, liveEveryMs, signal, () => {
        const trouble = recorder.trouble() ?? sharing.fault();
        return trouble ? { fault: trouble } : {};
      }),
  };
}
