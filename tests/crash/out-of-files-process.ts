// A host that records numbered lines with every file descriptor in use, and is asked meanwhile for all that needs one.
// Run with `ulimit -n 64`. Argument: the folder of the store. Prints JSON: the codes of the answers, lines sent, lines stored.
import { openSync, closeSync } from 'node:fs';
import { createHost } from '../../electron/host/host.ts';
import { openStore } from '../../electron/host/store/open.ts';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import { ok } from '../../shared/model/outcome.ts';
import { portOpener } from '../../electron/host/acquire/ports/open-port.ts';

const [folder = ''] = process.argv.slice(2);
const signal = new AbortController().signal;
const openRealPort = portOpener(() => true);
let send = (_text: string): void => {};
const bugs: string[] = [];

const made = createHost({
  dataFolder: folder,
  practice: false,
  version: 'test',
  host: 'command',
  onBug: (name, error) => bugs.push(`${name}: ${String(error)}`),
  openPort: async (request) => {
    if (request.path !== 'gauge') return openRealPort(request);
    send = (text) => request.onBytes(Buffer.from(text));
    return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
  },
});
if (!made.ok) throw new Error(made.fault.message);
const { handlers, close } = made.value;
await handlers['meters.connect']({ port: 'gauge', profile: builtInProfiles[0]!.name }, signal);
const started = await handlers['captures.start']({ setup: {} }, signal);
if (!started.ok) throw new Error(started.fault.message);
const { capture } = started.value;

const files: number[] = [];
try {
  for (;;) files.push(openSync('/dev/null', 'r'));
} catch {
  // Now none is left.
}
let sent = 0;
const sending = setInterval(() => send(`${(sent += 1)}\r\n`), 5);
const answers: Record<string, string> = {};
const answer = (name: string, outcome: { ok: boolean; fault?: { code: string } | undefined }) =>
  (answers[name] = outcome.ok ? 'ok' : (outcome.fault?.code ?? '?'));
const listed = await handlers['ports.list']({}, signal);
answer('ports.list', listed.ok && listed.value.fault ? { ok: false, fault: listed.value.fault } : listed);
answer(
  'connect serial',
  await handlers['meters.connect']({ port: '/dev/ttyS0', profile: builtInProfiles[1]!.name }, signal),
);
for await (const detections of handlers['ports.listen']({ ports: ['/dev/ttyS0', 'tcp://127.0.0.1:9'] }, signal))
  answers['ports.listen'] = detections.map(({ status }) => status).join(' ');
answer('analyze', await handlers['analysis.run']({ capture }, signal));
answer('export', await handlers['files.export']({ capture, format: 'package' }, signal));
answer('network', await handlers['network.allow']({ allowed: true }, signal));
await new Promise((resolve) => setTimeout(resolve, 500));
clearInterval(sending);
answer('finish', await handlers['captures.finish']({ capture }, signal));
for (const file of files) closeSync(file);
await close();

const store = openStore(folder);
if (!store.ok) throw new Error(store.fault.message);
const stored = store.value.db.prepare('SELECT CAST(raw AS TEXT) FROM line ORDER BY seq').pluck().all().map(Number);
store.value.close();
process.stdout.write(`${JSON.stringify({ left: files.length, answers, sent, stored, bugs })}\n`);
process.exit(0);
