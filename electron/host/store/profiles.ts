import type { Database } from 'better-sqlite3';
import { builtInProfile, builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail } from '../../../shared/model/outcome.ts';
import type { Profile } from '../../../shared/model/profile.ts';

const ownJson = (db: Database): string[] =>
  db.prepare<[], string>('SELECT json FROM profile ORDER BY name').pluck().all();

/** The built-in profiles and the user's own; an own one hides a built-in one of the same name. */
export function listProfiles(db: Database): { builtIn: boolean; profile: Profile }[] {
  const own = ownJson(db).map((json) => JSON.parse(json) as Profile);
  const names = new Set(own.map((profile) => profile.name));
  return [
    ...own.map((profile) => ({ builtIn: false, profile })),
    ...builtInProfiles.filter((profile) => !names.has(profile.name)).map((profile) => ({ builtIn: true, profile })),
  ];
}

/** The profile of that name. Fails with `profile-missing`, or `profile-invalid` when a saved one is refused by today's rules. */
export function findProfile(db: Database, name: string): Outcome<Profile> {
  const own = db.prepare<[string], string>('SELECT json FROM profile WHERE name = ?').pluck().get(name);
  if (own !== undefined) return checkProfile(JSON.parse(own), name);
  const builtIn = builtInProfile(name);
  return builtIn ? { ok: true, value: builtIn } : fail(fault('profile-missing', { profile: name }));
}

export const putProfile = (db: Database, profile: Profile): void => {
  db.prepare(
    'INSERT INTO profile (name, json) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET json = excluded.json',
  ).run(profile.name, JSON.stringify(profile));
};

/** Removes one of the user's own profiles; false when there was none of that name. Captures that used it are not changed. */
export const removeProfile = (db: Database, name: string): boolean =>
  db.prepare('DELETE FROM profile WHERE name = ?').run(name).changes > 0;
