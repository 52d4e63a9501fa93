import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createServer } from 'node:net';
import type { AddressInfo, Socket } from 'node:net';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { button, expect, goTo, test } from './workbench.ts';

/** A meter on a pseudo-terminal that sends the same line ten times a second. */
async function meterOn(path: string, line: Buffer): Promise<() => void> {
  const socat = spawn('socat', ['-u', 'STDIN', `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'ignore', 'ignore'] });
  socat.stdin.on('error', () => {});
  const timer = setInterval(() => socat.stdin.write(line), 100);
  await expect.poll(() => existsSync(path)).toBe(true);
  return () => {
    clearInterval(timer);
    socat.kill('SIGKILL');
  };
}

const typePath = (page: Page, path: string) => page.getByLabel('Port name').fill(path);

test('listening finds a meter and offers the profile that reads it', async ({ page, folder }) => {
  const path = join(folder, 'gauge');
  const unplug = await meterOn(path, Buffer.from('230.5 Pa\r\n'));
  try {
    await goTo(page, 'Meters');
    await typePath(page, path);
    await button(page, 'Listen').click();
    const found = page.locator('.port').filter({ hasText: path });
    await expect(found).toContainText('one number a line with its unit at 9600 baud 8N1, such as "230.5 Pa"');
    await expect(page.locator('.port').filter({ hasText: 'PRACTICE' }).first()).toContainText('Sending');
    await expect(button(page, 'Listen')).toBeEnabled({ timeout: 30_000 });
    await page.keyboard.press('Tab');
    await button(page, 'Connect as Manometer, one number a line, Pa').last().press('Enter');
    await expect(page.getByRole('region', { name: 'Manometer, one number a line, Pa' })).toContainText('Live');
    // A meter gives the pressure now: a second manometer is no longer offered.
    await expect(page.getByRole('button', { name: /^Connect as Manometer/ })).toHaveCount(0);
  } finally {
    unplug();
  }
});

test('a meter that sends in another frame than its profile is reported, listened to, and connected in its own frame', async ({
  page,
  folder,
}) => {
  const path = join(folder, 'meter');
  // "2.31 V" CR LF in 7E1, as a port opened as 8N1 receives it: the eighth bit makes the ones even (worked out by hand from ASCII).
  const unplug = await meterOn(path, Buffer.from('b22e33b1a0568d0a', 'hex'));
  try {
    await goTo(page, 'Meters');
    await typePath(page, path);
    const profiles = page.getByRole('combobox', { name: 'Profile' });
    await profiles.selectOption('Multimeter, SCPI, volts, asked with READ?');
    await expect(page.getByText(`Will be written to ${path} every 500 ms:`)).toBeVisible();
    await expect(page.getByText('READ? LF (bytes 52 45 41 44 3F 0A)')).toBeVisible();
    await profiles.selectOption('Multimeter, volts, one number a line');
    await expect(page.getByText('Nothing will be written to the port.')).toBeVisible();
    await button(page, 'Connect').click();
    const card = page.getByRole('region', { name: 'Multimeter, volts, one number a line', exact: true });
    await expect(card).toContainText(
      `Data arrives on ${path}, but at 9600 baud it is not readable text. Listen on the port to find the right speed.`,
    );
    await button(page, 'Disconnect and listen').click();
    await expect(card).toHaveCount(0);
    const found = page.locator('.port').filter({ hasText: path });
    await expect(found).toContainText('at 9600 baud 7E1, such as "2.31 V"');
    const name = 'Multimeter, volts, one number a line, 9600 baud 7E1';
    await button(page, `Connect as ${name}`).click();
    // A pseudo-terminal knows no parity, so only that it is connected in this way can be seen here.
    await expect(page.getByRole('region', { name, exact: true })).toBeVisible();
    await expect(page.getByRole('combobox', { name: 'Profile' })).toContainText(name);
  } finally {
    unplug();
  }
});

test('a meter on the network is refused until it is allowed, then read and marked, and disconnected when it is no longer allowed', async ({
  page,
}) => {
  const sockets: Socket[] = [];
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('error', () => {});
    const timer = setInterval(() => socket.write('4.61 V\r\n'), 100);
    socket.on('close', () => clearInterval(timer));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const path = `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
  try {
    await goTo(page, 'Meters');
    await typePath(page, path);
    await page.getByRole('combobox', { name: 'Profile' }).selectOption('Multimeter, volts, one number a line');
    await button(page, 'Connect').click();
    await expect(page.getByText('is a network connection, and those are off', { exact: false })).toBeVisible();
    expect(sockets).toHaveLength(0);
    const allow = page.getByRole('switch', { name: /Allow meters on the network/ });
    await expect(allow).not.toBeChecked();
    await allow.press('Space');
    await expect(page.getByText('On: network connections are allowed')).toBeVisible();
    await button(page, 'Connect').click();
    const card = page.getByRole('region', { name: 'Multimeter, volts, one number a line', exact: true });
    await expect(card).toContainText('Live');
    await expect(card).toContainText('Over the network');
    await page.reload();
    await expect(allow).toBeChecked();
    await allow.click();
    await expect(card).toHaveCount(0);
    await expect.poll(() => sockets.every((socket) => socket.destroyed)).toBe(true);
  } finally {
    for (const socket of sockets) socket.destroy();
    server.close();
  }
});
