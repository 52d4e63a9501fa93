import { mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { adapterOf, listLinuxPorts } from '../../../electron/host/acquire/ports/linux-ports.ts';
import { listSerialPorts } from '../../../electron/host/acquire/ports/list-ports.ts';
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

  it('is made on Linux without the library, which starts a program for it', async () => {
    failToList('linux');
    expect((await listSerialPorts()).fault).toBeUndefined();
    expect(SerialPort.list).not.toHaveBeenCalled();
  });

  it('has on Linux the terminals with a device and a device file, with the facts of their adapters, in the order of their numbers', async () => {
    const root = testFolder();
    const terminal = (name: string, files: Record<string, string> = {}, device?: string) => {
      mkdirSync(join(root, 'sys/class/tty', name), { recursive: true });
      mkdirSync(join(root, 'dev'), { recursive: true });
      writeFileSync(join(root, 'dev', name), '');
      for (const [file, text] of Object.entries(files)) writeFileSync(join(root, 'sys/class/tty', name, file), text);
      if (device === undefined) return;
      mkdirSync(join(root, device, name), { recursive: true });
      symlinkSync(join(root, device, name), join(root, 'sys/class/tty', name, 'device'));
    };
    terminal('console');
    terminal('tty0');
    terminal('ttyS0', { type: '4\n' }, 'sys/devices/pnp0');
    terminal('ttyS1', { type: '0\n' }, 'sys/devices/platform');
    terminal('rfcomm0');
    terminal('ttyUSB10', {}, 'sys/devices/usb1/1-2/1-2:1.0');
    terminal('ttyUSB2', {}, 'sys/devices/usb1/1-1/1-1:1.0');
    terminal('ttyACM0', {}, 'sys/devices/usb1/1-3');
    rmSync(join(root, 'dev/ttyACM0'));
    writeFileSync(join(root, 'sys/devices/usb1/1-1/product'), 'USB to serial\n');
    writeFileSync(join(root, 'sys/devices/usb1/1-1/serial'), 'A1B2C3\n');
    writeFileSync(join(root, 'sys/devices/usb1/1-2/idVendor'), '1a2b\n');
    writeFileSync(join(root, 'sys/devices/usb1/1-2/idProduct'), '3c4d\n');
    expect(await listLinuxPorts(root)).toEqual([
      ['/dev/rfcomm0', {}],
      ['/dev/ttyS0', {}],
      ['/dev/ttyUSB2', { adapter: 'USB to serial', serialNumber: 'A1B2C3' }],
      ['/dev/ttyUSB10', { adapter: 'USB 1a2b:3c4d' }],
    ]);
  });
});
