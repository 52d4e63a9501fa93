// The arrows (imports) between folders. An arrow that is not listed here is an error.
// The page's only arrow, renderer -> shared, is checked by no-restricted-imports in .oxlintrc.json, because this tool's parser cannot read TSX.
const sharedFolders = {
  model: [],
  numerics: ['model'],
  'burner-state': ['model', 'numerics'],
  'light-off': ['model', 'numerics'],
  analysis: ['model', 'numerics', 'burner-state', 'light-off'],
  advice: ['model', 'numerics', 'burner-state', 'light-off', 'analysis'],
  instruments: ['model'],
  files: ['model', 'instruments'],
  contract: ['model', 'burner-state'],
  practice: ['model', 'numerics'],
  report: ['model', 'light-off', 'analysis'],
};

// The folders of the analysis in the order of its steps: each imports only those before it.
const analysisSteps = ['sweep', 'curve', 'window'].map((step) => `shared/analysis/${step}`);

// The folders inside a step, each with those of the same step that it may import; the files beside them put them together.
const insideSteps = {
  sweep: { series: [], 'self-check': ['series'], flame: ['series'], 'meter-faults': ['series'] },
  curve: { model: [] },
  window: { ends: [], losses: ['ends'], diagnostics: ['ends'] },
};

const folders = {
  shared: [],
  'electron/host': ['shared'],
  'electron/shell': ['electron/cli', 'electron/host', 'shared'],
  'electron/web': ['electron/host', 'shared'],
  'electron/cli': ['electron/host', 'electron/web', 'shared'],
};

// From the wire to the store: each folder knows only those that the bytes have passed before.
const acquireFolders = {
  ports: [],
  protocol: ['ports'],
  detect: ['ports'],
  meter: ['ports', 'protocol', 'detect'],
  record: ['protocol', 'meter'],
};

/** Forbids `from` to import any of our folders that is not allowed. */
const onlyTo = (from, allowed, own) => ({
  name: `${from} imports only ${allowed.length ? allowed.join(', ') : 'itself'}`,
  severity: 'error',
  from: { path: `^${from}/` },
  to: { path: own, pathNot: [from, ...allowed].map((folder) => `^${folder}/`) },
});

module.exports = {
  forbidden: [
    ...Object.entries(folders).map(([from, allowed]) =>
      onlyTo(from, allowed, '^(shared|electron|renderer|tests|build)/'),
    ),
    ...Object.entries(sharedFolders).map(([folder, allowed]) =>
      onlyTo(
        `shared/${folder}`,
        allowed.map((name) => `shared/${name}`),
        '^shared/',
      ),
    ),
    ...analysisSteps.map((step, i) => onlyTo(step, analysisSteps.slice(0, i), '^shared/analysis/')),
    ...Object.entries(insideSteps).flatMap(([step, inside]) =>
      Object.entries(inside).map(([folder, allowed]) =>
        onlyTo(
          `shared/analysis/${step}/${folder}`,
          allowed.map((name) => `shared/analysis/${step}/${name}`),
          `^shared/analysis/${step}/`,
        ),
      ),
    ),
    ...['logger', 'ports', 'trials', 'validation'].map((folder) =>
      onlyTo(`shared/model/${folder}`, [], '^shared/model/(logger|ports|trials|validation)/'),
    ),
    {
      name: 'only analyze imports warnings',
      severity: 'error',
      from: { path: '^shared/analysis/', pathNot: '^shared/analysis/(warnings/|analyze)' },
      to: { path: '^shared/analysis/warnings/' },
    },
    {
      name: 'only compare imports compare',
      severity: 'error',
      from: { path: '^shared/analysis/', pathNot: '^shared/analysis/compare/' },
      to: { path: '^shared/analysis/compare/' },
    },
    {
      name: 'only proof imports sections',
      severity: 'error',
      from: { path: '^shared/report/', pathNot: '^shared/report/(sections/|proof)' },
      to: { path: '^shared/report/sections/' },
    },
    ...Object.entries(acquireFolders).map(([folder, allowed]) =>
      onlyTo(
        `electron/host/acquire/${folder}`,
        allowed.map((name) => `electron/host/acquire/${name}`),
        '^electron/host/acquire/',
      ),
    ),
    {
      name: 'no circle',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'only the shell knows Electron',
      severity: 'error',
      from: { pathNot: '^(electron/shell|tests)/' },
      to: { path: 'node_modules/electron/' },
    },
    { name: 'no Node in shared', severity: 'error', from: { path: '^shared/' }, to: { dependencyTypes: ['core'] } },
  ],
  options: { doNotFollow: { path: 'node_modules' }, tsPreCompilationDeps: true, parser: 'swc' },
};
