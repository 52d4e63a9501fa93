import { join } from 'node:path';

/** The path of the store in `folder`. A module of its own, as opening a store takes time to load. */
export const storeFile = (folder: string): string => join(folder, 'pilot-bench.sqlite');
