import { describe, expect, it } from 'vitest';
import { findProfile, listProfiles, putProfile, removeProfile } from '../../../electron/host/store/profiles.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder } from '../../helpers/test-folder.ts';

const own = (name: string, unit: string) =>
  Profile.parse({ name, line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit }] });

describe('the user’s own profiles', () => {
  it('are saved, replaced by name and removed, and the built-in ones stay', () => {
    const store = openStore(testFolder());
    if (!store.ok) throw new Error(store.fault.message);
    const { db, close } = store.value;
    putProfile(db, own('gauge', 'Pa'));
    putProfile(db, own('gauge', 'mbar'));
    expect(findProfile(db, 'gauge')).toEqual({ ok: true, value: own('gauge', 'mbar') });
    expect(removeProfile(db, 'gauge')).toBe(true);
    expect(removeProfile(db, 'gauge')).toBe(false);
    expect(removeProfile(db, builtInProfiles[0]!.name)).toBe(false);
    expect(findProfile(db, 'gauge')).toMatchObject({ ok: false, fault: { code: 'profile-missing' } });
    expect(listProfiles(db).map(({ profile }) => profile)).toEqual(builtInProfiles);
    close();
  });
});
