/** One way to turn the program against its user, and the tests that try it. */
export interface Attack {
  by: 'file' | 'meter' | 'web page' | 'other user' | 'machine';
  tried: string;
  /** A file or folder of tests. */
  tests: string;
  /** Of those tests, the ones whose title matches; without it, all of them. */
  titled?: RegExp;
}

const files: Omit<Attack, 'by'>[] = [
  {
    tried: 'bytes of a package changed',
    tests: 'tests/attack/mutations/files.test.ts',
    titled: /packages whose bytes/,
  },
  {
    tried: 'files in a package changed',
    tests: 'tests/attack/mutations/files.test.ts',
    titled: /packages whose \S+\.(csv|json) /,
  },
  {
    tried: 'description of a package changed',
    tests: 'tests/attack/mutations/files.test.ts',
    titled: /whose description/,
  },
  { tried: 'hours that cannot be', tests: 'tests/analysis/readings/impossible-times.test.ts' },
  { tried: 'devices and endless pipes as captures', tests: 'tests/cli/endless-input.test.ts' },
  { tried: 'more readings than fit into the memory', tests: 'tests/cli/small-memory.test.ts' },
  { tried: 'CSVs changed', tests: 'tests/attack/mutations/files.test.ts', titled: /CSVs/ },
  { tried: 'setups changed', tests: 'tests/attack/mutations/files.test.ts', titled: /setups/ },
  { tried: 'profiles changed, so that they write to a port', tests: 'tests/attack/mutations/profiles.test.ts' },
  {
    tried: 'a byte flipped or a wrong size in a zip',
    tests: 'tests/files/zip.test.ts',
    titled: /one byte|another check sum/,
  },
  { tried: 'two files of one name in a zip', tests: 'tests/files/zip.test.ts', titled: /two files of one name/ },
  {
    tried: 'a package that names files outside of it',
    tests: 'tests/files/data-package.test.ts',
    titled: /outside of it/,
  },
  {
    tried: 'links, loops and pipes in a package folder',
    tests: 'tests/cli/package-folder.test.ts',
    titled: /names a file outside|no link|pipe/,
  },
  {
    tried: 'a practice capture that denies it',
    tests: 'tests/files/data-package.test.ts',
    titled: /is marked all the same|denies it/,
  },
  { tried: 'files too large, also by what a zip claims', tests: 'tests/files/limits.test.ts' },
  { tried: 'formulas for a spreadsheet in cells', tests: 'tests/files/formulas.test.ts' },
  { tried: 'control characters for the terminal', tests: 'tests/cli/visible-output.test.ts' },
  { tried: 'any text as CSV', tests: 'tests/files/wide-csv.test.ts', titled: /any text/ },
  { tried: 'any bytes as a package', tests: 'tests/files/data-package.test.ts', titled: /any bytes/ },
  {
    tried: 'an imported capture recorded on with its own polls',
    tests: 'tests/host/handlers/refusals.test.ts',
    titled: /that was imported/,
  },
  { tried: 'polls that are no text or a Modbus frame', tests: 'tests/instruments/check-profile.test.ts' },
  { tried: 'patterns that take forever', tests: 'tests/instruments/pattern.test.ts' },
  {
    tried: 'another capture under the id of one in the store',
    tests: 'tests/host/store/import-again.test.ts',
    titled: /other content/,
  },
  {
    tried: 'damaged files in place of the store',
    tests: 'tests/host/store/store.test.ts',
    titled: /in its place|newer/,
  },
  {
    tried: 'stale setup and trials beside a CSV that is written',
    tests: 'tests/cli/overwriting.test.ts',
    titled: /beside a CSV/,
  },
  {
    tried: 'outputs onto links, devices and read-only files',
    tests: 'tests/cli/overwriting.test.ts',
    titled: /never replaced/,
  },
  { tried: 'outputs without a name', tests: 'tests/cli/overwriting.test.ts', titled: /must not be empty/ },
];

const meters: Omit<Attack, 'by'>[] = [
  { tried: 'any bytes as lines', tests: 'tests/instruments/arbitrary-lines.test.ts' },
  { tried: 'lines without end, NUL bytes, junk', tests: 'tests/host/protocol/malformed-lines.test.ts' },
  { tried: 'Modbus answers that are damaged, late or of others', tests: 'tests/host/protocol/modbus-protocol.test.ts' },
  { tried: 'a flood of lines, killed in the middle', tests: 'tests/crash/flood.test.ts' },
  { tried: 'blank lines or one endless line without pause', tests: 'tests/host/meter/flooding.test.ts' },
  { tried: 'numbers that no chart can draw', tests: 'tests/report/charts-extreme.test.ts' },
  {
    tried: 'meters on the network without leave',
    tests: 'tests/host/ports/tcp-port.test.ts',
    titled: /unless it is allowed|is invalid/,
  },
];

const pages: Omit<Attack, 'by'>[] = [
  { tried: 'messages changed part by part', tests: 'tests/attack/mutations/wire.test.ts', titled: /part by part/ },
  { tried: 'messages changed in their bytes', tests: 'tests/attack/mutations/wire.test.ts', titled: /in their bytes/ },
  { tried: 'requests of another origin', tests: 'tests/web/guard.test.ts', titled: /other web pages/ },
  {
    tried: 'a name that leads to this computer (DNS rebinding)',
    tests: 'tests/web/guard.test.ts',
    titled: /no other name|foreign name/,
  },
  {
    tried: 'a socket from another origin or from none',
    tests: 'tests/web/guard.test.ts',
    titled: /opening of a socket/,
  },
  { tried: 'paths out of the page', tests: 'tests/web/guard.test.ts', titled: /finds nothing|invalid address/ },
  { tried: 'foreign scripts in the page', tests: 'tests/web/guard.test.ts', titled: /evaluated code/ },
  {
    tried: 'messages outside the protocol',
    tests: 'tests/contract/both-transports.test.ts',
    titled: /closes the channel|only the names|refuses/,
  },
  { tried: 'a page that asks and never reads', tests: 'tests/web/client.test.ts', titled: /does not read/ },
  { tried: 'navigation, windows and permissions in Electron', tests: 'tests/shell/main.test.ts' },
  { tried: 'the twenty points of Electron’s checklist', tests: 'tests/shell/security-checklist.test.ts' },
  { tried: 'a preload that hands over more than a port', tests: 'tests/shell/preload.test.ts' },
];

const otherUsers: Omit<Attack, 'by'>[] = [
  { tried: 'the page without its address', tests: 'tests/web/guard.test.ts', titled: /serves nothing/ },
  { tried: 'hellos changed in their bytes', tests: 'tests/attack/mutations/wire.test.ts', titled: /hellos/ },
  { tried: 'guessed, used and stolen keys and tokens', tests: 'tests/web/admission.test.ts' },
  { tried: 'keys in the arguments or environment of a process', tests: 'tests/cli/serve-address.test.ts' },
  { tried: 'cookies, which every port of the computer gets', tests: 'tests/web/guard.test.ts', titled: /no cookie/ },
  { tried: 'files and folders of the store open to others', tests: 'tests/host/files/private-files.test.ts' },
];

const machine: Omit<Attack, 'by'>[] = [
  { tried: 'a full disk', tests: 'tests/host/store/full-disk.test.ts' },
  { tried: 'a full disk at the end of a command', tests: 'tests/cli/recording/full-disk.test.ts' },
  { tried: 'the store deleted during a recording', tests: 'tests/host/store/store-gone.test.ts' },
  { tried: 'kills while recording', tests: 'tests/crash/kill.test.ts' },
  { tried: '200 kills while recording and continuing', tests: 'tests/crash/many-kills.test.ts' },
  {
    tried: 'first starts at once and on a full disk, and empty stores',
    tests: 'tests/host/store/first-start/first-start.test.ts',
  },
  { tried: '200 kills during the first start and a migration', tests: 'tests/host/store/first-start/killed.test.ts' },
  { tried: 'an owner of a capture that is dead, a zombie or unknown', tests: 'tests/host/store/owner.test.ts' },
  { tried: 'out of file descriptors while recording', tests: 'tests/crash/out-of-files.test.ts' },
  { tried: 'a clock that jumped between kill and continue', tests: 'tests/host/capture/resume-at.test.ts' },
  { tried: 'an import killed half way', tests: 'tests/host/store/import-chunks.test.ts' },
  { tried: 'an analysis killed or out of memory', tests: 'tests/host/jobs/fork-process.test.ts' },
  { tried: 'an analysis that ends again and again', tests: 'tests/host/jobs/job-runner.test.ts' },
];

export const attacks: readonly Attack[] = [
  ...files.map((attack) => ({ by: 'file', ...attack }) as const),
  ...meters.map((attack) => ({ by: 'meter', ...attack }) as const),
  ...pages.map((attack) => ({ by: 'web page', ...attack }) as const),
  ...otherUsers.map((attack) => ({ by: 'other user', ...attack }) as const),
  ...machine.map((attack) => ({ by: 'machine', ...attack }) as const),
];
