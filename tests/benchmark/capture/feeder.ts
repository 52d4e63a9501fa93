// Plays a meter on its standard output: numbered lines, one in fifty of them junk, once the file `go` is there. Called with
// that file, the number of lines, and the lines a second (0: as fast as they are taken). Stays until it is killed, as a meter
// would.
import { existsSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { lineOf } from './lines.ts';

const [go = '', lines = '', perSecond = ''] = process.argv.slice(2);
const count = Number(lines);
const rate = Number(perSecond);

process.stdout.on('error', () => process.exit());
while (!existsSync(go)) await wait(5);
const beganMs = performance.now();
for (let n = 0; n < count;) {
  const due = rate === 0 ? n + 2000 : Math.floor(((performance.now() - beganMs) / 1000) * rate);
  const some: Buffer[] = [];
  for (; n < Math.min(due, count); n += 1) some.push(lineOf(n), Buffer.from('\r\n'));
  const taken = process.stdout.write(Buffer.concat(some));
  if (rate > 0) await wait(2);
  else if (!taken) await new Promise((resolve) => process.stdout.once('drain', resolve));
}
setInterval(() => {}, 1000);
