// `npm test`: installs what the tests need, then runs types, lint, arrows, format, unit tests, and the page in a real browser.
// Runs everything even when a part fails, and ends with one line: N passed, N failed.
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { constants, setPriority } from 'node:os';
import { delimiter, join, relative } from 'node:path';
import { chromiumPrograms } from './chromium.mjs';
import { build, ensureInstalled, log, pinnedNode, root } from './prepare.mjs';

/** Programs that the tests call, and the Debian packages that contain them; of several, the first that can be had. */
const systemPrograms = [chromiumPrograms, ['socat'], ['pdftotext']];
const packageOf = (program) => (program === 'pdftotext' ? 'poppler-utils' : program);

const has = (program) => (process.env.PATH ?? '').split(delimiter).some((folder) => existsSync(join(folder, program)));

function ensureSystemPrograms() {
  const missing = systemPrograms.filter(
    (programs) => !programs.some(has) && !(programs === chromiumPrograms && process.env.PILOT_BENCH_CHROMIUM),
  );
  if (missing.length === 0) return;
  const names = missing.map((programs) => programs.map(packageOf).join(' or ')).join(', ');
  if (!has('apt-get') || process.getuid?.() !== 0) {
    log(`Pilot Bench: the tests need ${names}; install them with this system's package manager.`);
    return;
  }
  log(`Pilot Bench: installing ${names} for the tests ...`);
  const options = { stdio: ['ignore', 2, 2], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  const install = (packages) =>
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], options).status === 0;
  spawnSync('apt-get', ['update', '-qq'], options);
  // All at once is faster; a package that this system does not have fails all of them.
  if (install(missing.map(([first]) => packageOf(first)))) return;
  for (const programs of missing) programs.some((program) => install([packageOf(program)]));
}

ensureInstalled();
ensureSystemPrograms();
const node = pinnedNode();

const results = join(root, 'test-results');
rmSync(results, { recursive: true, force: true });
mkdirSync(results);

const total = { passed: 0, failed: 0 };
/** Said again at the end, where it is found without reading everything above. */
const failures = [];
const count = (passed, failed) => {
  total.passed += passed;
  total.failed += failed;
};

// The pinned Node comes first in the path for everything below, including the scripts of package.json.
const env = {
  ...process.env,
  // Hundreds of commands are started: the second of a kind need not be compiled again.
  NODE_COMPILE_CACHE: join(results, 'compile-cache'),
  PATH: [join(node, '..'), join(root, 'node_modules', '.bin'), process.env.PATH].join(delimiter),
};

/** Runs one program to its end, showing its output; resolves to whether it succeeded. */
async function succeeds(name, args, more = {}) {
  log(`\n== ${name}`);
  const [status] = await once(
    spawn(node, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], env: { ...env, ...more } }),
    'close',
  );
  return status === 0;
}

/** A check passes or fails as a whole and counts as one test. */
async function check(name, args) {
  const child = spawn(node, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'], env });
  // It may wait until the machine has nothing better to do.
  setPriority(child.pid, constants.priority.PRIORITY_LOW);
  let output = '';
  for (const stream of [child.stdout, child.stderr])
    stream.setEncoding('utf8').on('data', (text) => {
      output += text;
    });
  const [status] = await once(child, 'close');
  log(`\n== ${name}\n${output}`.trimEnd());
  if (status === 0) return count(1, 0);
  count(0, 1);
  failures.push(name);
}

/** Adds the counts and the failed tests from a runner's own JSON; a runner that died without one counts as one failure. */
async function counted(name, args, file, read, more) {
  const succeeded = await succeeds(name, args, more);
  const report = existsSync(file)
    ? read(JSON.parse(readFileSync(file, 'utf8')))
    : { passed: 0, failed: 1, names: [name] };
  failures.push(...report.names);
  count(report.passed, report.failed);
  // A runner can fail without a failed test: an error outside any test, or no tests at all.
  if (report.failed > 0 || succeeded) return;
  failures.push(name);
  count(0, 1);
}

/** The file and the full name of every test of Vitest's report that did not pass. */
const failedUnits = ({ testResults }) =>
  testResults.flatMap(({ name, status, assertionResults }) => {
    const names = assertionResults
      .filter((test) => test.status !== 'passed')
      .map(({ fullName }) => `${relative(root, name)}: ${fullName}`);
    return names.length === 0 && status === 'failed' ? [relative(root, name)] : names;
  });

/** The file and the title of every test of Playwright's report that did not pass at the first try. */
const failedPages = ({ suites = [], specs = [] }) => [
  ...suites.flatMap(failedPages),
  ...specs
    .filter(({ tests }) => tests.some(({ status }) => status !== 'expected'))
    .map(({ file, title }) => `${file}: ${title}`),
];

/** What Vitest's report says. */
const readUnits = (json) => ({
  passed: json.numPassedTests,
  failed: json.numFailedTests + json.numPendingTests + json.numTodoTests,
  names: failedUnits(json),
});

/** What Playwright's report says: a test that passes only on a second try is not a pass, and neither is a skipped one. */
const readPages = (json) => ({
  passed: json.stats.expected,
  failed: json.stats.unexpected + json.stats.flaky + json.stats.skipped,
  names: failedPages(json),
});

/** The checks of the source, by name: none of them needs another. */
const checks = {
  ...Object.fromEntries(
    ['shared', 'electron', 'electron/shell/preload', 'renderer', 'tests'].map((folder) => [
      `types of ${folder}`,
      ['node_modules/typescript/bin/tsc', '-p', folder],
    ]),
  ),
  lint: ['node_modules/oxlint/bin/oxlint', '--type-aware', '--deny-warnings'],
  arrows: ['node_modules/dependency-cruiser/bin/dependency-cruise.mjs', '--output-type', 'err', 'shared', 'electron'],
  format: ['node_modules/prettier/bin/prettier.cjs', '--check', '--log-level', 'warn', '.'],
};
/** All of them, two at a time; what each says is shown in one piece. */
async function allChecks() {
  const waiting = Object.entries(checks);
  const checkOn = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) await check(...next);
  };
  await Promise.all([checkOn(), checkOn()]);
}

build(node);
count(1, 0);

/** Tests of some projects of Vitest. */
async function units(name, file, projects) {
  const json = join(results, file);
  const chosen = projects.map((project) => `--project=${project}`);
  const args = ['run', ...chosen, '--reporter=default', '--reporter=json', `--outputFile.json=${json}`];
  const bundle = { PILOT_BENCH_CLI: join(root, 'out', 'main', 'cli.js') };
  await counted(name, ['node_modules/vitest/vitest.mjs', ...args], json, readUnits, bundle);
}

await units('unit and host tests', 'unit.json', ['together', 'host', 'page', 'replaced']);
// Tests that hold the program to a promise in time leave a core idle: the checks of the source run behind them, at low priority.
await Promise.all([units('kills and floods', 'crash.json', ['crash']), allChecks()]);

const pages = join(results, 'e2e.json');
await counted(
  'the workbench in a browser',
  ['node_modules/@playwright/test/cli.js', 'test', '--reporter=list,json'],
  pages,
  readPages,
  { PLAYWRIGHT_JSON_OUTPUT_NAME: pages },
);

log('');
for (const name of failures) log(`FAILED: ${name}`);
process.stdout.write(`${total.passed} passed, ${total.failed} failed\n`);
process.exitCode = total.failed === 0 ? 0 : 1;
