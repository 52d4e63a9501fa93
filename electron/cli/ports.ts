import type { Command } from 'commander';
import { listSerialPorts } from '../host/acquire/list-ports.ts';
import { openSerialPort } from '../host/acquire/serial-port.ts';
import { listenTo } from './listen.ts';
import type { Status } from './output.ts';
import { columns, print, printJson, say, sayFault } from './output.ts';

export const describe = (command: Command): Command =>
  command
    .description(
      'Lists the serial ports of this computer and listens to each for a moment. It only listens: nothing is written to any port, so a meter that waits to be asked stays silent.',
    )
    .option('--json', 'one line of JSON per port')
    .option('--no-listen', 'only list them');

export async function run(options: { json?: boolean; listen: boolean }): Promise<Status> {
  const { ports, fault } = await listSerialPorts();
  if (fault) sayFault(fault);
  if (ports.length === 0) say('No serial port was found. A port that is not listed can still be given by its path.');
  // All at once: each is a wire of its own, and the wait is the same for one and for many.
  const heard = await Promise.all(
    ports.map(async ({ path, label }) => ({
      path,
      label,
      ...(options.listen && { heard: await listenTo(path, openSerialPort) }),
    })),
  );
  if (options.json) for (const port of heard) printJson(port);
  else for (const line of columns(heard.map((port) => [port.label, port.heard?.says ?? '']))) print(line);
  return 0;
}
