import { SerialPort } from 'serialport';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import { openFault } from './open-fault.ts';
import type { OpenPort } from './port.ts';

// Soon enough for whoever is holding the cable; an idle port costs one check a second.
const checkEveryMs = 1000;

/** Opens a serial port of this computer. Fails with the faults of `openFault`. */
export const openSerialPort: OpenPort = async ({ path, serial, onBytes, onLost }) => {
  const port = new SerialPort({ path, ...serial, autoOpen: false });
  const refusal = await new Promise<Error | null | undefined>((resolve) => {
    port.open(resolve);
  });
  if (refusal) return fail(await openFault(path, refusal.message));

  let isOver = false;
  const reportLost = () => {
    if (isOver) return;
    isOver = true;
    onLost();
  };
  let hasReceived = true;
  port.on('data', (bytes: Buffer) => {
    hasReceived = true;
    if (!isOver) onBytes(bytes);
  });
  port.once('close', reportLost);
  // A port whose device went away can be read as empty for ever, without any error and without a pause. Draining waits until
  // everything written has left; it fails on such a port and does nothing to a healthy one. So a port that received nothing for a
  // whole interval is drained as a check. Reading is not affected.
  let isDraining = false;
  const check = setInterval(() => {
    if (isOver || !port.isOpen) clearInterval(check);
    else if (hasReceived) hasReceived = false;
    // One drain at a time: each one that is held up (a poll that the far end does not accept) blocks one of the few threads that
    // also read files and resolve names.
    else if (!isDraining) {
      isDraining = true;
      port.drain((error) => {
        isDraining = false;
        // Bytes that came in the meantime outweigh the error: the port is checked again when it falls silent.
        if (!error || hasReceived) return;
        reportLost();
        if (port.isOpen) port.close(() => {});
      });
    }
  }, checkEveryMs);
  // The far end hung up: nothing more can come, though the port would stay open.
  port.once('end', () => {
    reportLost();
    if (port.isOpen) port.close(() => {});
  });
  // Reading and writing errors; a lost port also closes, which is what counts.
  port.on('error', () => {});

  return ok({
    startsOnNewLine: false,
    write(data) {
      if (port.isOpen && port.writableLength === 0) port.write(data);
    },
    async close() {
      isOver = true;
      clearInterval(check);
      if (!port.isOpen) return;
      await new Promise<void>((resolve) => {
        port.close(() => resolve());
      });
    },
  });
};
