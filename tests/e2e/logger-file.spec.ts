import { readFileSync } from 'node:fs';
import type { Locator, Page } from '@playwright/test';
import { type Analysis, button, expect, goTo, look, pilotBench, test, tile } from './workbench.ts';

/** mbar in a conventional inch of water: ISO 80000-4 gives 249.088 91 Pa. */
const mbarPerInH2O = 2.490_889_1;

const two = (n: number): string => String(n).padStart(2, '0');

/** A sample sweep in the manner of a logger: dates whose day may be a month, decimal commas, a pressure without its unit. */
function loggerText(title: string, day: string): string {
  const rows = readFileSync('sample-captures/clean.csv', 'utf8').trim().split('\n');
  const [heading, ...body] = rows.filter((row) => !row.startsWith('#'));
  const places = ['elapsed_s', 'pilot_pressure_inH2O', 'flame_signal_V'].map((name) =>
    heading!.split(',').indexOf(name),
  );
  const lines = body.map((row) => {
    const [t, p, s] = places.map((place) => row.split(',')[place] ?? '');
    const ms = Math.round(Number(t) * 1000);
    const time = `10:${two(Math.floor(ms / 60_000))}:${two(Math.floor(ms / 1000) % 60)},${String(ms % 1000).padStart(3, '0')}`;
    const pressure = p === '' ? '' : (Number(p) * mbarPerInH2O).toFixed(4);
    return [`${day} ${time}`, pressure.replace('.', ','), s!.replace('.', ','), '21,5'].join(';');
  });
  return [title, 'Kanal 1 bis 3', '', 'Zeit;Druck;Flammensignal [V];Raumtemperatur [°C]', ...lines, ''].join('\r\n');
}

const choose = (page: Page, name: string, text: string) =>
  page
    .getByLabel('Files to import')
    .setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text, 'latin1') });
const mapper = (page: Page, name: string): Locator => page.getByRole('region', { name: `How to read ${name}` });

/** The page itself is never wider than the window. */
async function fits(page: Page): Promise<void> {
  const overflow = await page.evaluate(() =>
    ['html', '#place'].map((selector) => {
      const box = document.querySelector(selector)!;
      return box.scrollWidth - box.clientWidth;
    }),
  );
  expect(overflow).toEqual([0, 0]);
}

test("another logger's file is asked about, read and imported, and the next of that logger needs no question", async ({
  page,
}) => {
  await goTo(page, 'Earlier');
  await choose(page, 'besuch.txt', loggerText('Messprotokoll 1', '03/04/2026'));
  const box = mapper(page, 'besuch.txt');
  const importButton = box.getByRole('button', { name: 'Import', exact: true });
  // The first job starts a process.
  await expect(box).toContainText('Import waits for 2 answers above.', { timeout: 60_000 });
  await expect(importButton).toBeDisabled();
  await expect(importButton).toHaveAccessibleDescription('Import waits for 2 answers above.');

  for (const size of [
    { width: 1280, height: 800 },
    { width: 1024, height: 768 },
  ]) {
    await page.setViewportSize(size);
    await fits(page);
    await look(page, `mapper-open-${size.width}`);
  }
  await page.setViewportSize({ width: 1280, height: 800 });

  const time = box.getByRole('group', { name: 'Which time is "03/04/2026 10:00:06,034"?' });
  await expect(time.getByRole('button')).toHaveCount(2);
  await time.getByRole('button', { name: /April 3, 2026/u }).click();
  const unit = box.getByRole('group', { name: 'Which unit is "Druck" in?' });
  await expect(box).toContainText('Import waits for one answer above.');
  await unit.getByRole('button', { name: 'mbar', exact: true }).click();
  await expect(box.getByRole('figure')).toHaveCount(2);
  await expect(box).toContainText('"Druck" as pilot pressure in mbar');
  await expect(box).toContainText('left out: "Raumtemperatur [°C]"');
  await expect(importButton).toBeEnabled();
  for (const size of [
    { width: 1280, height: 800 },
    { width: 1024, height: 768 },
  ]) {
    await page.setViewportSize(size);
    await fits(page);
    await box.getByRole('region', { name: 'The first rows of the file' }).scrollIntoViewIfNeeded();
    await look(page, `mapper-read-${size.width}`);
  }
  await importButton.click();
  await expect(page.getByText('One capture added.')).toBeVisible();
  await expect(box).toHaveCount(0);
  await expect(button(page, 'Choose files')).toBeFocused();

  // The window is that of the sample, in the unit of the file.
  await button(page, /^Open /).click();
  await goTo(page, 'Window');
  const sample = JSON.parse(await pilotBench('analyze', 'sample-captures/clean.csv', '--json')) as Analysis & {
    signalInterval: Record<'low' | 'high', { ci: [number, number] }>;
  };
  const low = Number(await tile(page, 'Low end'));
  const { ci } = sample.signalInterval.low;
  expect(low).toBeGreaterThanOrEqual(ci[0] * mbarPerInH2O - 0.005);
  expect(low).toBeLessThanOrEqual(ci[1] * mbarPerInH2O + 0.005);

  await goTo(page, 'Earlier');
  await choose(page, 'besuch 2.txt', loggerText('Messprotokoll 2', '05/06/2026'));
  const next = mapper(page, 'besuch 2.txt');
  await expect(next).toContainText('Read as the last file with this heading was');
  await expect(next.getByRole('group')).toHaveCount(0);
  await look(page, 'mapper-remembered');
  await next.getByRole('button', { name: 'Import', exact: true }).click();
  await expect(page.getByText('One capture added.')).toBeVisible();
  await expect(page.getByRole('table', { name: 'Captures' }).getByRole('row')).toHaveCount(3);
});

test('the mapper works by keyboard alone, each control has a name, and everything that was guessed can be changed', async ({
  page,
}) => {
  await goTo(page, 'Earlier');
  await choose(page, 'besuch.txt', loggerText('Messprotokoll', '03/04/2026'));
  const box = mapper(page, 'besuch.txt');
  // The focus is on the first answer, and goes on to what is next.
  await expect(box.getByRole('button', { name: /April 3, 2026/u })).toBeFocused({ timeout: 60_000 });
  await page.keyboard.press('Enter');
  await expect(box.getByRole('group', { name: 'Which unit is "Druck" in?' }).getByRole('button').first()).toBeFocused();
  for (
    let i = 0;
    i < 20 &&
    !(await box.getByRole('button', { name: 'mbar', exact: true }).evaluate((one) => one === document.activeElement));
    i += 1
  )
    await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  await expect(box.getByRole('button', { name: 'Import', exact: true })).toBeFocused();

  const unnamed = await box.evaluate(
    (panel) =>
      [...panel.querySelectorAll<HTMLElement>('select, input, button')].filter(
        (one) =>
          !one.getAttribute('aria-label') &&
          !one.getAttribute('aria-labelledby') &&
          !(one as HTMLInputElement).labels?.length &&
          !one.textContent?.trim(),
      ).length,
  );
  expect(unnamed).toBe(0);

  await box.getByLabel('Unit of Druck').selectOption('Pa');
  await expect(box).toContainText('"Druck" as pilot pressure in Pa');
  await box.getByLabel('Times are written as').selectOption('MM/dd/yyyy HH:mm:ss');
  await expect(box).toContainText('as MM/dd/yyyy HH:mm:ss');
  // Two changes at once: neither is lost.
  await box.getByLabel('Unit of Druck').selectOption('kPa');
  await box.getByLabel('Times are written as').selectOption('dd/MM/yyyy HH:mm:ss');
  await expect(box).toContainText('as dd/MM/yyyy HH:mm:ss; "Druck" as pilot pressure in kPa');
  await box.getByLabel('Read Druck as').selectOption('Left out');
  await expect(box.getByRole('group', { name: 'Which column is the pilot pressure?' })).toBeVisible();
  await expect(box.getByRole('figure')).toHaveCount(1);
  await box.getByLabel('Read Druck as').selectOption('Pilot pressure');
  await box.getByRole('button', { name: 'mbar', exact: true }).click();
  await expect(box.getByRole('figure')).toHaveCount(2);
  await box.getByLabel('Lines before the heading').fill('2000');
  await box.getByLabel('Lines before the heading').press('Enter');
  await expect(box).toContainText(/Import (?:waits|is not possible)/u);
  await box.getByLabel('Lines before the heading').fill('3');
  await box.getByLabel('Lines before the heading').press('Enter');
  await expect(box.getByRole('group', { name: 'Which unit is "Druck" in?' })).toBeVisible();
  await box.getByRole('button', { name: 'Do not import' }).click();
  await expect(box).toHaveCount(0);
  await expect(page.getByText('No captures yet')).toBeVisible();
});
