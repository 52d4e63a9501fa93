import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { deniedHelp, openFault } from '../../../electron/host/acquire/ports/open-fault.ts';
import { holderOf } from '../../../electron/host/acquire/ports/port-holder.ts';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { plugIn } from '../../helpers/pty-meter.ts';

const serial = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const;

describe('a port that is in use', () => {
  it('names the program that holds it, where the system tells', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    const module = new URL('../../../electron/host/acquire/ports/serial-port.ts', import.meta.url).href;
    const open = `const { openSerialPort } = await import(${JSON.stringify(module)});
      await openSerialPort({ path: ${JSON.stringify(meter.path)}, serial: ${JSON.stringify(serial)}, onBytes() {}, onLost() {} });
      console.log('open');`;
    const other = spawn(process.execPath, ['--input-type=module', '-e', open], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    onTestFinished(() => void other.kill('SIGKILL'));
    await new Promise((resolve) => other.stdout.once('data', resolve));
    const request = { path: meter.path, serial, onBytes: () => {}, onLost: () => {} };
    const refused = await openSerialPort(request);
    expect(refused).toMatchObject({ ok: false, fault: { code: 'port-busy' } });
    expect(refused.ok ? '' : refused.fault.message).toContain(`(process ${other.pid})`);
  });

  it('is reported without a name where the holder is not known', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'port'), '');
    expect(await holderOf(join(folder, 'port'))).toBeUndefined();
    expect(await holderOf(join(folder, 'none'))).toBeUndefined();
    const fault = await openFault(
      join(folder, 'port'),
      'Error: Error Resource temporarily unavailable Cannot lock port',
    );
    expect(fault).toMatchObject({ code: 'port-busy' });
    expect(fault.message).toContain('in use by another program.');
  });
});

describe('a port that this user may not open', () => {
  it('says how to get the right on each system', () => {
    const rights = { group: 'dialout', groupHasAccess: true, isMember: false };
    expect(deniedHelp('/dev/ttyUSB0', 'linux', rights)).toBe(
      'Add yourself to the group dialout with "sudo usermod -a -G dialout $USER", then log out and in again.',
    );
    expect(deniedHelp('/dev/ttyUSB0', 'linux', { ...rights, isMember: true })).toContain('Log out and in again');
    // Without udev the device belongs to root: adding the user to a group would not help.
    for (const bare of [
      undefined,
      { group: undefined, groupHasAccess: true, isMember: false },
      { ...rights, groupHasAccess: false },
    ])
      expect(deniedHelp('/dev/ttyUSB0', 'linux', bare)).toContain('sudo chgrp dialout /dev/ttyUSB0');
    expect(deniedHelp('/dev/tty.usbserial', 'darwin', undefined)).toContain('System Settings');
    expect(deniedHelp('COM3', 'win32', undefined)).not.toContain('sudo');
  });

  it('is distinguished from one that is busy: on Windows "Access denied" means busy', async () => {
    expect(await openFault('COM3', 'Error: Opening COM3: Access denied', 'win32')).toMatchObject({ code: 'port-busy' });
    expect(
      await openFault('/dev/ttyUSB0', 'Error: Permission denied, cannot open /dev/ttyUSB0', 'linux'),
    ).toMatchObject({
      code: 'port-denied',
    });
  });
});

describe('a port that cannot be opened', () => {
  it('is missing when there is no such path', async () => {
    const path = join(testFolder(), 'none');
    const refused = await openSerialPort({ path, serial, onBytes: () => {}, onLost: () => {} });
    expect(refused).toMatchObject({ ok: false, fault: { code: 'port-missing', facts: { port: path } } });
  });

  it('failed, with the words of the system, for any other reason', async () => {
    // A path of Linux has less than 4096 bytes, and a name in it at most 255 (limits.h: PATH_MAX, NAME_MAX).
    const path = join(testFolder(), 'x'.repeat(256));
    const refused = await openSerialPort({ path, serial, onBytes: () => {}, onLost: () => {} });
    expect(refused).toMatchObject({ ok: false, fault: { code: 'port-failed' } });
    expect(refused.ok ? '' : refused.fault.facts?.['reason']).toMatch(/name too long$/iu);
    expect(await openFault('COM3', 'Error: Opening COM3: Unknown error code 31', 'win32')).toMatchObject({
      code: 'port-failed',
      facts: { reason: 'Opening COM3: Unknown error code 31' },
    });
    expect(await openFault('COM3', '', 'win32')).toMatchObject({ facts: { reason: 'the system gave no reason' } });
  });
});

describe('a path that is no serial port', () => {
  it('is reported as such, not in the words of the system', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'notes'), 'kept');
    for (const path of ['/dev/null', join(folder, 'notes'), folder]) {
      const refused = await openSerialPort({ path, serial, onBytes: () => {}, onLost: () => {} });
      expect(refused).toMatchObject({
        ok: false,
        fault: { code: 'port-not-serial', message: `${path} is not a serial port. Choose another port.` },
      });
    }
    expect(readFileSync(join(folder, 'notes'), 'utf8')).toBe('kept');
  });
});
