import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { button, expect, goTo, startWorkbench, test } from './workbench.ts';

test('after a kill two windows show the same: the capture is continued with its own meters, and both follow it', async ({
  browser,
  folder,
}) => {
  const path = join(folder, 'gauge');
  const socat = spawn('socat', ['-u', 'STDIN', `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'ignore', 'ignore'] });
  socat.stdin.on('error', () => {});
  let n = 0;
  const timer = setInterval(() => socat.stdin.write(`${(n += 1)}\r\n`), 50);
  await expect.poll(() => existsSync(path)).toBe(true);
  const before = await startWorkbench(folder);
  try {
    const old = await (await browser.newContext()).newPage();
    await old.goto(before.url);
    const practice = (page: typeof old) => page.getByRole('complementary', { name: 'Practice bench' });
    await goTo(old, 'Meters');
    await expect(practice(old)).toBeVisible();
    await old.getByRole('radio', { name: 'Other' }).check();
    await old.getByLabel('Port name').fill(path);
    await old.getByRole('combobox', { name: 'Profile' }).selectOption('Manometer, one number a line');
    await button(old, 'Connect').click();
    // An invented flame must not be shown beside a real meter.
    await expect(practice(old)).toHaveCount(0);
    await goTo(old, 'Sweep');
    await button(old, 'Start recording').click();
    await expect(old.getByRole('button', { name: 'Begin sweep' })).toBeVisible();
    await before.end('SIGKILL');

    const after = await startWorkbench(folder, Number(new URL(before.url).port));
    try {
      const context = await browser.newContext();
      const [one, other] = [await context.newPage(), await context.newPage()];
      for (const page of [one, other]) {
        await page.goto(after.url);
        await expect(page.getByText('A capture was interrupted')).toBeVisible();
      }
      for (const page of [one, other]) await expect(page.getByText('Pilot Bench is open in 2 windows.')).toBeVisible();
      await button(one, 'Continue recording').click();
      for (const page of [one, other]) {
        await expect(page.getByText('A capture was interrupted')).toHaveCount(0);
        await goTo(page, 'Sweep');
        await expect(button(page, 'Begin sweep')).toBeVisible();
      }
      await goTo(one, 'Meters');
      await expect(one.getByRole('region', { name: 'Manometer, one number a line' })).toContainText('Live');
      await other.close();
      await expect(one.getByText('Pilot Bench is open in')).toHaveCount(0);
      await expect(old.getByText('was restarted and has a new address')).toBeVisible({ timeout: 15_000 });
    } finally {
      await after.end();
    }
  } finally {
    clearInterval(timer);
    socat.kill('SIGKILL');
    before.process.kill('SIGKILL');
  }
});
