// Writes out/licenses.txt: the license of every package whose code goes out with the program, in a bundle or beside it. Fails when one is
// under terms that are not in the list below. Electron and Chromium bring their own notices with their binary.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { exitWith, root } from './prepare.mjs';

// Written by the build: the names of the packages whose code is in a bundle, one list per bundle.
const bundledFolder = join(root, 'out', 'bundled-packages');

/** Terms that ask for nothing but their notice (SPDX names). */
export const allowed = new Set(
  'MIT MIT-0 ISC 0BSD BSD-2-Clause BSD-3-Clause Apache-2.0 BSL-1.0 BlueOak-1.0.0 Zlib CC0-1.0 Unlicense OFL-1.1 Python-2.0'.split(
    ' ',
  ),
);

/** Whether an SPDX expression can be kept with allowed terms: one of its alternatives, all of its parts. */
export const isAllowed = (expression) =>
  expression
    .replace(/[()]/gu, '')
    .split(/\s+OR\s+/u)
    .some((alternative) => alternative.split(/\s+AND\s+/u).every((term) => allowed.has(term.trim())));

/** Packages whose package.json names no license: what the LICENSE file in them says. */
const readFromTheirText = { 'png-js': 'MIT' };

/** The folders in node_modules of a package and all that it needs, as the lock file nests them. */
function closure(lock, names) {
  const found = new Set();
  const visit = (name, from) => {
    for (let base = from; ; base = base.slice(0, Math.max(0, base.lastIndexOf('/node_modules/')))) {
      const path = base === '' ? `node_modules/${name}` : `${base}/node_modules/${name}`;
      const entry = lock.packages[path];
      if (entry) {
        if (found.has(path)) return;
        found.add(path);
        for (const next of Object.keys({ ...entry.dependencies, ...entry.optionalDependencies })) visit(next, path);
        return;
      }
      if (base === '') return;
    }
  };
  for (const name of names) visit(name, '');
  return [...found];
}

/** Every package that goes out: `path` in the project, name, version, license and its text. */
export function shippedPackages() {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));
  const bundled = readdirSync(bundledFolder).flatMap((file) =>
    JSON.parse(readFileSync(join(bundledFolder, file), 'utf8')),
  );
  const paths = new Set([
    ...closure(lock, Object.keys(lock.packages[''].dependencies)),
    ...bundled.map((name) => `node_modules/${name}`),
  ]);
  return [...paths]
    .filter((path) => existsSync(join(root, path, 'package.json')))
    .sort((a, b) => a.localeCompare(b))
    .map((path) => {
      const { name, version, license, licenses } = JSON.parse(readFileSync(join(root, path, 'package.json'), 'utf8'));
      return {
        path,
        name,
        version,
        license: license?.type ?? license ?? licenses?.[0]?.type ?? readFromTheirText[name] ?? '',
        text: licenseText(path),
      };
    });
}

/** The text of the license and of what must be passed on with it; empty when the package brings none. */
function licenseText(path) {
  const folder = join(root, path);
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile() && /^(?:licen[cs]e|copying|notice|ofl)/iu.test(entry.name))
    .map(({ name }) => readFileSync(join(folder, name), 'utf8').trim())
    .join('\n\n');
}

/** The file that goes out with the program: each text once, under the names of all packages that come with it. */
export function noticeOf(packages) {
  const sections = Map.groupBy(packages, ({ license, text }) => `${license}\n${text}`);
  const line = '-'.repeat(80);
  return [
    'Pilot Bench contains the following packages. Their licenses ask for these notices.',
    ...[...sections.values()].map((own) => {
      const [{ license, text }] = own;
      const names = own.map(({ name, version }) => `${name} ${version}`).join('\n');
      return `${line}\n${names}\nLicense: ${license}\n\n${text || 'The package brings no text of its license.'}`;
    }),
  ].join('\n\n');
}

if (process.argv[1] === join(root, 'build', 'licenses.mjs')) {
  const packages = shippedPackages();
  const refused = packages.filter(({ license }) => !isAllowed(license));
  if (refused.length > 0)
    exitWith(
      `Licenses that are not allowed: ${refused.map(({ name, license }) => `${name} (${license || 'none'})`).join(', ')}.`,
    );
  writeFileSync(join(root, 'out', 'licenses.txt'), `${noticeOf(packages)}\n`);
}
