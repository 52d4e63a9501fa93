import { fault } from '../../../../shared/model/faults.ts';
import { isNetworkPort } from '../../../../shared/model/ports/network-port.ts';
import { fail } from '../../../../shared/model/outcome.ts';
import type { OpenPort } from './port.ts';
import { openSerialPort } from './serial-port.ts';
import { openTcpPort } from './tcp-port.ts';

/**
 * Opens a serial port of this computer, or a serial server on the network when that is allowed at that moment; else fails with
 * `network-off`. Nothing else in the host opens a network connection.
 */
export const portOpener =
  (isNetworkAllowed: () => boolean): OpenPort =>
  async (request) => {
    if (!isNetworkPort(request.path)) return openSerialPort(request);
    return isNetworkAllowed() ? openTcpPort(request) : fail(fault('network-off', { port: request.path }));
  };
