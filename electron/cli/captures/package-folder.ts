import { readFile, realpath, stat } from 'node:fs/promises';
import { isAbsolute, join, relative, sep } from 'node:path';
import { pathsInPackage } from '../../../shared/files/data-package.ts';
import { bytesFault } from '../../../shared/files/limits.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { readFault } from './files.ts';

const descriptorName = 'datapackage.json';

/**
 * The files of a package folder by their path inside it: its datapackage.json, and of the rest only the files that it names, as a
 * folder may contain anything else, and one that is no package may be the root of a disk.
 * Fails with `file-kind-unknown` when there is no datapackage.json, `package-invalid` or `file-unreadable`.
 */
export async function readPackageFolder(folder: string): Promise<Outcome<Map<string, Uint8Array>>> {
  const descriptor = await readInside(folder, descriptorName);
  if (!descriptor.ok)
    return descriptor.fault.code === 'file-missing' ? fail(fault('file-kind-unknown', { file: folder })) : descriptor;
  const paths = pathsInPackage(folder, new TextDecoder().decode(descriptor.value));
  if (!paths.ok) return paths;
  const entries = new Map([[descriptorName, descriptor.value]]);
  for (const path of paths.value) {
    const bytes = await readInside(folder, path);
    if (bytes.ok) entries.set(path, bytes.value);
    else if (bytes.fault.code !== 'file-missing') return bytes;
  }
  return ok(entries);
}

/** Reads a file of the folder. Links that lead out of the folder are not followed; a pipe or device is not read, as that could block. */
async function readInside(folder: string, path: string): Promise<Outcome<Uint8Array>> {
  const file = join(folder, path);
  try {
    const inside = relative(await realpath(folder), await realpath(file));
    if (inside === '..' || inside.startsWith(`..${sep}`) || isAbsolute(inside))
      return fail(
        fault('package-invalid', { file: folder, problems: `${path} is a link that leads out of the folder` }),
      );
    const kind = await stat(file);
    if (!kind.isFile())
      return fail(
        fault('file-unreadable', { file, reason: kind.isDirectory() ? 'it is a folder' : 'it is not a file' }),
      );
    const large = bytesFault(file, kind.size);
    return large ? fail(large) : ok(await readFile(file));
  } catch (error) {
    return fail(readFault(file, error));
  }
}
