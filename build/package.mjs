// `npm run package`: builds the installers of this system. Checks all that can be checked without Electron's binary first; where that
// cannot be had, it ends with one sentence. `npm run package -- --dir` leaves out the installers and packs a folder.
import { existsSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { build, electronBinary, ensureInstalled, exitWith, log, pinnedNode, root, run } from './prepare.mjs';

/** The fuses as electron-builder.yml sets them, by their names in @electron/fuses. */
const fuseNames = {
  runAsNode: 'RunAsNode',
  enableCookieEncryption: 'EnableCookieEncryption',
  enableNodeOptionsEnvironmentVariable: 'EnableNodeOptionsEnvironmentVariable',
  enableNodeCliInspectArguments: 'EnableNodeCliInspectArguments',
  enableEmbeddedAsarIntegrityValidation: 'EnableEmbeddedAsarIntegrityValidation',
  onlyLoadAppFromAsar: 'OnlyLoadAppFromAsar',
  grantFileProtocolExtraPrivileges: 'GrantFileProtocolExtraPrivileges',
};

ensureInstalled();
const node = pinnedNode();
// Builds the bundles and the licenses, and stops at a license that is not allowed.
build(node);
const builder = createRequire(join(root, 'node_modules', 'electron-builder', 'package.json'));
const { getConfig, validateConfiguration } = builder('app-builder-lib/out/util/config/config.js');
const { DebugLogger } = builder('builder-util');
const config = await getConfig(root, 'electron-builder.yml', null);
await validateConfiguration(config, new DebugLogger(false)).catch((error) => exitWith(error.message));
for (const name of Object.keys(fuseNames))
  if (typeof config.electronFuses?.[name] !== 'boolean')
    exitWith(`electron-builder.yml does not set the fuse ${name}.`);
log('Pilot Bench: bundles, licenses and settings are in order.');

if (!electronBinary(node))
  exitWith("Pilot Bench: nothing was packed, because Electron's binary is not here and could not be downloaded.");
const status = run(node, ['node_modules/electron-builder/cli.js', ...process.argv.slice(2)]);
if (status !== 0) exitWith('Pilot Bench: packing failed; the messages above say why.');
for (const program of packedPrograms()) await checkFuses(program);

/** The programs in the folders that electron-builder packed from. */
function packedPrograms() {
  const dist = join(root, 'dist');
  const candidates = readdirSync(dist, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .flatMap(({ name }) => [
      join(dist, name, 'pilot-bench'),
      join(dist, name, 'Pilot Bench.exe'),
      join(dist, name, 'Pilot Bench.app'),
    ]);
  const found = candidates.filter((path) => existsSync(path));
  if (found.length === 0) exitWith('Pilot Bench: there is no packed program whose fuses could be read back.');
  return found;
}

/** Reads the fuses back from a packed program: a setting that did not arrive would leave a door open. */
async function checkFuses(program) {
  const { FuseState, FuseV1Options, getCurrentFuseWire } = builder('@electron/fuses');
  const wire = await getCurrentFuseWire(program);
  for (const [setting, name] of Object.entries(fuseNames)) {
    const wanted = config.electronFuses[setting] ? FuseState.ENABLE : FuseState.DISABLE;
    if (wire[FuseV1Options[name]] !== wanted)
      exitWith(`Pilot Bench: the fuse ${name} of ${program} is not as it was set.`);
  }
  log(`Pilot Bench: ${program} is packed, and its fuses read back as they were set.`);
}
