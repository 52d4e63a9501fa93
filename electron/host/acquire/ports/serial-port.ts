import { SerialPort } from 'serialport';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import { openFault } from './open-fault.ts';
import type { OpenPort } from './port.ts';

// Soon enough for the one who holds the cable, and a second of an idle port's work.
const watchMs = 1000;

/** Opens a serial port of this computer. */
export const openSerialPort: OpenPort = async ({ path, serial, onBytes, onLost }) => {
  const port = new SerialPort({ path, ...serial, autoOpen: false });
  const refused = await new Promise<Error | null | undefined>((resolve) => {
    port.open(resolve);
  });
  if (refused) return fail(await openFault(path, refused.message));

  let over = false;
  const lost = () => {
    if (over) return;
    over = true;
    onLost();
  };
  let heard = true;
  port.on('data', (bytes: Buffer) => {
    heard = true;
    if (!over) onBytes(bytes);
  });
  port.once('close', lost);
  // A port whose device went away can be read as empty for ever, without any error and without a pause. Draining waits until
  // what was written has left; it fails on such a port and does nothing to a healthy one. So a port that has said nothing for a
  // whole turn is asked in this way. Reading is not touched by it.
  let asking = false;
  const watch = setInterval(() => {
    if (over || !port.isOpen) clearInterval(watch);
    else if (heard) heard = false;
    // One question at a time: each one that is held up (a poll that the far end does not take) holds one of the few threads
    // that files and names are looked up with, too.
    else if (!asking) {
      asking = true;
      port.drain((error) => {
        asking = false;
        // What came in the meantime is worth more than the answer: a port that speaks is asked again when it falls silent.
        if (!error || heard) return;
        lost();
        if (port.isOpen) port.close(() => {});
      });
    }
  }, watchMs);
  // The far end hung up: nothing more can come, though the port would stay open.
  port.once('end', () => {
    lost();
    if (port.isOpen) port.close(() => {});
  });
  // Reading and writing errors; a lost port also closes, which is what counts.
  port.on('error', () => {});

  return ok({
    beginsWhole: false,
    write(data) {
      if (port.isOpen && port.writableLength === 0) port.write(data);
    },
    async close() {
      over = true;
      clearInterval(watch);
      if (!port.isOpen) return;
      await new Promise<void>((resolve) => {
        port.close(() => resolve());
      });
    },
  });
};
