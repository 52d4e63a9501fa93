import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { button, expect, goTo, look, startWorkbench, test } from './workbench.ts';

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
    await before.end('SIGKILL');
  }
});

test('a browser is let in by its address once: again after a reload and in a second window, another browser by a new address', async ({
  browser,
  page,
  workbench,
}) => {
  const step = (shown: typeof page) => shown.getByRole('navigation', { name: 'Steps of the visit' });
  await expect(step(page)).toBeVisible();
  const notice = (shown: typeof page) => shown.getByText(/^Pilot Bench is open in/u);
  const refused = (shown: typeof page) => shown.getByText('This address no longer counts');

  // The key is used: it is gone from the address, and no cookie carries anything to other ports.
  await expect.poll(() => page.url()).not.toContain('#');
  expect(await page.context().cookies()).toEqual([]);
  await page.reload();
  await expect(button(page, 'New tab')).toBeVisible();

  // The printed address again, in this browser and in another one.
  const again = await page.context().newPage();
  await again.goto(workbench.url);
  await expect(notice(again)).toHaveText(
    'Pilot Bench is open in 2 windows. All of them show and control the same recording.',
  );
  await again.close();
  const other = await (await browser.newContext()).newPage();
  await other.goto(workbench.url);
  await expect(refused(other)).toBeVisible();

  await button(page, 'New tab').click();
  await look(page, 'another-window');
  const opened = page.context().waitForEvent('page');
  await button(page, 'Open a tab here').click();
  const here = await opened;
  await expect(notice(here)).toBeVisible();
  await expect(notice(page)).toContainText('2 windows');

  await button(page, 'New tab').click();
  await button(page, 'Address for another browser').click();
  const address = (await page.getByRole('dialog').getByRole('status').textContent()) ?? '';
  await look(page, 'address-for-another-browser');
  await button(page, 'Close').click();
  await other.goto(address);
  await expect(notice(other)).toContainText('3 windows');
  await expect(refused(other)).toHaveCount(0);
  await other.context().close();
  await here.close();

  // The file that the browser is started with leads in, each time with a new key.
  const file = join(workbench.folder, 'store', `open-${new URL(workbench.url).port}.html`);
  for (let i = 0; i < 2; i += 1) {
    const started = await (await browser.newContext()).newPage();
    await started.goto(pathToFileURL(file).href);
    await expect(step(started)).toBeVisible();
    await expect(notice(started)).toContainText('2 windows');
    await started.context().close();
    await expect(notice(page)).toHaveCount(0);
  }
});
