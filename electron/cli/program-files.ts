import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

// The paths are the same from the source (electron/cli) and from the bundle (out/main).

/** The version of Pilot Bench. */
export const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

/** The folder of the built page. */
export const rendererFolder = fileURLToPath(new URL('../../out/renderer', import.meta.url));
