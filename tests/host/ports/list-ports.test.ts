import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { adapterOf, listSerialPorts } from '../../../electron/host/acquire/ports/list-ports.ts';
import { testFolder } from '../../helpers/test-folder.ts';

describe('the facts of a port’s adapter', () => {
  it('are read from the USB device above it, without udev', async () => {
    const sys = testFolder();
    const device = join(sys, 'devices', 'usb1', '1-1');
    mkdirSync(join(device, '1-1:1.0', 'ttyUSB0'), { recursive: true });
    mkdirSync(join(sys, 'class', 'ttyUSB0'), { recursive: true });
    symlinkSync(join(device, '1-1:1.0', 'ttyUSB0'), join(sys, 'class', 'ttyUSB0', 'device'));
    writeFileSync(join(device, 'manufacturer'), 'Adapter Works\n');
    writeFileSync(join(device, 'product'), 'USB to serial\n');
    writeFileSync(join(device, 'serial'), 'A1B2C3\n');
    expect(await adapterOf('ttyUSB0', join(sys, 'class'))).toEqual({
      adapter: 'Adapter Works USB to serial',
      serialNumber: 'A1B2C3',
    });
    expect(await adapterOf('ttyS0', join(sys, 'class'))).toEqual({});
  });
});

describe('the list of ports', () => {
  /** As if this were another system, whose list of ports fails. */
  function failToList(platform: NodeJS.Platform) {
    const { platform: real } = process;
    Object.defineProperty(process, 'platform', { value: platform });
    const list = vi.spyOn(SerialPort, 'list').mockRejectedValue(new Error('registry not readable'));
    onTestFinished(() => {
      Object.defineProperty(process, 'platform', { value: real });
      list.mockRestore();
    });
  }

  it('is empty, with a fault that gives the reason, when the system does not list its ports', async () => {
    failToList('win32');
    expect(await listSerialPorts()).toMatchObject({
      ports: [],
      fault: { code: 'ports-unlisted', facts: { reason: 'registry not readable' } },
    });
  });

  it('is made from the device files on Linux, where the library needs udevadm', async () => {
    failToList('linux');
    expect((await listSerialPorts()).fault).toBeUndefined();
  });
});
