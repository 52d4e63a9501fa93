import { join } from 'node:path';

/** The file of the store in `folder`. Apart from what opens it, which takes time to load. */
export const storeFile = (folder: string): string => join(folder, 'pilot-bench.sqlite');
