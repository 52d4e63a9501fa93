// A host that records its standard input as if that were a port, until it is killed. Prints `recording ID` once it
// records, and then how many bytes have arrived, whenever some have.
// Arguments: the folder of the store and, to continue an interrupted capture, its id.
import { createHost } from '../../electron/host/host.ts';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import { ok } from '../../shared/model/outcome.ts';

const [folder = '', interrupted] = process.argv.slice(2);
const neverAborted = new AbortController().signal;

const host = createHost({
  dataFolder: folder,
  practice: false,
  version: 'test',
  host: 'command',
  openPort: async ({ onBytes }) => {
    let arrived = 0;
    // Nobody is left to kill it: a test that failed must not leave it behind.
    process.stdin.on('end', () => process.exit(1));
    process.stdin.on('data', (bytes: Buffer) => {
      onBytes(bytes);
      arrived += bytes.length;
      process.stdout.write(`arrived ${arrived}\n`);
    });
    return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
  },
});
if (!host.ok) throw new Error(host.fault.message);
const { handlers } = host.value;
await handlers['meters.connect']({ port: 'standard input', profile: builtInProfiles[0]!.name }, neverAborted);
const started =
  interrupted === undefined
    ? await handlers['captures.start']({ setup: {} }, neverAborted)
    : await handlers['captures.continue']({ capture: interrupted }, neverAborted);
if (!started.ok) throw new Error(started.fault.message);
process.stdout.write(`recording ${interrupted ?? (started.value as { capture: string }).capture}\n`);
