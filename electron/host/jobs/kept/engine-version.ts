import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Identifies what computes: every source file in `folder`, and below it where `isDeep`, by name and content, and the JavaScript engine,
 * whose functions may differ in the last digit. A number that people count up is forgotten once; then an old answer would be taken for a
 * new one. The bundle is one folder: archives of a packed program cannot be listed below that everywhere.
 */
export function versionOf(folder: string, isDeep: boolean, others: readonly string[] = []): string {
  const hash = createHash('sha256').update(`${process.versions.v8} ${process.arch}`);
  const files = readdirSync(folder, { recursive: isDeep, encoding: 'utf8' })
    .filter((name) => /\.(?:ts|js)$/u.test(name))
    .sort()
    .map((name) => join(folder, name));
  for (const file of [...files, ...others]) {
    const content = readFileSync(file);
    hash.update(`${file.slice(folder.length)} ${content.length} `).update(content);
  }
  return hash.digest('hex');
}

let known: string | undefined;

/** The version of this program's computation: of the bundle that runs, or in a checkout of `shared` and the packages it is given. */
export function engineVersion(): string {
  const isSource = import.meta.url.endsWith('.ts');
  const root = join(import.meta.dirname, '..', '..', '..', '..');
  known ??= isSource
    ? versionOf(join(root, 'shared'), true, [join(root, 'package-lock.json')])
    : versionOf(import.meta.dirname, false);
  return known;
}
