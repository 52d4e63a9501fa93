import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { adapterOf } from '../../../electron/host/acquire/ports/list-ports.ts';
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
