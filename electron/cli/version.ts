import { readFileSync } from 'node:fs';

/** The version of Pilot Bench. The path is the same from the source and from the bundle in out/main. */
export const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};
