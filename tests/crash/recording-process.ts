// A host that records what comes in on its standard input, as if that were a port, until it is killed. Says `recording ID` once it
// does. Called with the folder of the store and, to go on with an interrupted capture, the id of that.
import { createHost } from '../../electron/host/host.ts';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import { ok } from '../../shared/model/outcome.ts';

const [folder = '', interrupted] = process.argv.slice(2);
const untilDone = new AbortController().signal;

const host = createHost({
  dataFolder: folder,
  practice: false,
  version: 'test',
  host: 'command',
  openPort: async ({ onBytes }) => {
    process.stdin.on('data', onBytes);
    return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
  },
});
if (!host.ok) throw new Error(host.fault.message);
const { handlers } = host.value;
await handlers['meters.connect']({ port: 'standard input', profile: builtInProfiles[0]!.name }, untilDone);
const begun =
  interrupted === undefined
    ? await handlers['captures.start']({ setup: {} }, untilDone)
    : await handlers['captures.continue']({ capture: interrupted }, untilDone);
if (!begun.ok) throw new Error(begun.fault.message);
process.stdout.write(`recording ${interrupted ?? (begun.value as { capture: string }).capture}\n`);
