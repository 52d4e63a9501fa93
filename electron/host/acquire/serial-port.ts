import { SerialPort } from 'serialport';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { openFault } from './open-fault.ts';
import type { OpenPort } from './port.ts';

/** Opens a serial port of this computer. */
export const openSerialPort: OpenPort = async ({ path, serial, onBytes, onLost }) => {
  const port = new SerialPort({ path, ...serial, autoOpen: false });
  const refused = await new Promise<Error | null | undefined>((resolve) => {
    port.open(resolve);
  });
  if (refused) return fail(openFault(path, refused.message));

  let over = false;
  const lost = () => {
    if (over) return;
    over = true;
    onLost();
  };
  port.on('data', (bytes: Buffer) => {
    if (!over) onBytes(bytes);
  });
  port.once('close', lost);
  // The far end hung up: nothing more can come, though the port would stay open.
  port.once('end', () => {
    lost();
    if (port.isOpen) port.close(() => {});
  });
  // Reading and writing errors; a lost port also closes, which is what counts.
  port.on('error', () => {});

  return ok({
    beginsWhole: false,
    write(text) {
      if (port.isOpen && port.writableLength === 0) port.write(text);
    },
    async close() {
      over = true;
      if (!port.isOpen) return;
      await new Promise<void>((resolve) => {
        port.close(() => resolve());
      });
    },
  });
};
