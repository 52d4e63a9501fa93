// The least that can be done with a port: `serialport` and its line parser, and a count. Prints what that took as JSON. Called
// with the file that lets the meter begin, how many lines it sends, and the port.
import { ReadlineParser } from '@serialport/parser-readline';
import { SerialPort } from 'serialport';
import { start } from './ports.ts';

export interface Counted {
  lines: number;
  seconds: number;
  cpuSeconds: number;
}

const [go = '', lines = '', path = ''] = process.argv.slice(2);
const wanted = Number(lines);
const port = new SerialPort({ path, baudRate: 9600 });
let beganMs = 0;
let cpu = process.cpuUsage();
port.once('data', () => {
  beganMs = performance.now();
  cpu = process.cpuUsage();
});
let count = 0;
port.pipe(new ReadlineParser({ delimiter: '\n' })).on('data', () => {
  count += 1;
  if (count < wanted) return;
  const seconds = (performance.now() - beganMs) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  process.stdout.write(JSON.stringify({ lines: count, seconds, cpuSeconds: (user + system) / 1e6 } satisfies Counted));
  port.close();
});
port.once('open', () => setTimeout(() => start(go), 500));
