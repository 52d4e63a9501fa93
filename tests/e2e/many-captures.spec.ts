import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import { expect, goTo, look, pilotBench, test as base } from './workbench.ts';

const count = 250;
/** An invented register: one visit a day from January 1, 2024, at 40 burners of four sites. */
const visit = (n: number) => ({
  id: `visit-${n}`,
  startedAt: new Date(Date.UTC(2024, 0, 1 + n, 8)).toISOString().replace('Z', '+00:00'),
  technician: ['R. Odegaard', 'M. S\u00f8nderg\u00e5rd'][n % 2]!,
  burner: { site: ['North mill', 'Foundry', 'Brewery', 'Laundry'][n % 4]!, name: `Boiler ${n % 40}` },
  meters: [],
  setup: {},
  readings: [{ role: 'flame_signal', unit: 'V', elapsedS: 0, value: 4.6, raw: '4.60' } as const],
  lines: [],
  marks: [],
  trials: [],
  notes: n === 7 ? [{ at: '2024-01-08T10:00:00Z', text: 'electrode replaced' }] : [],
});

const test = base.extend({
  // oxlint-disable-next-line no-empty-pattern
  folder: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-many-'));
    mkdirSync(join(folder, 'files'));
    const files = Array.from({ length: count }, (_, n) => {
      const file = join(folder, 'files', `${n}.zip`);
      writeFileSync(file, writeZip(writeDataPackage(visit(n))));
      return file;
    });
    await pilotBench('import', ...files, '--data', join(folder, 'store'));
    await use(folder);
    rmSync(folder, { recursive: true, force: true });
  },
});

const rows = (page: Page) => page.getByRole('table', { name: 'Captures' }).locator('tr[data-index]');
const found = (page: Page) => page.locator('.capture-search output');

test('of many captures only the rows in view are on the page; scrolling and the keyboard reach the last one', async ({
  page,
}) => {
  await goTo(page, 'Earlier');
  await expect(found(page)).toHaveText('250 captures');
  // Visit n is in 40 burners and 4 sites; the newest, number 249, stands first.
  await expect(rows(page).first()).toContainText('Boiler 9');
  expect(await rows(page).count()).toBeLessThan(40);
  await expect(page.getByRole('table', { name: 'Captures' })).toHaveAttribute('aria-rowcount', '251');

  await page.locator('#place').evaluate((place) => place.scrollTo(0, place.scrollHeight));
  const last = page.getByRole('row', { name: /Boiler 0 North mill 2024-01-01/u });
  await expect(last).toHaveAttribute('aria-rowindex', '251');
  expect(await rows(page).count()).toBeLessThan(40);

  await last.getByRole('button', { name: /^Open/u }).focus();
  await page.keyboard.press('Home');
  await expect(page.locator('tr[data-index="0"] button').first()).toBeFocused();
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('ArrowDown');
  await expect(page.locator('tr[data-index="3"] button').first()).toBeFocused();
  // The row with the focus stays although it is far out of view.
  await page.locator('#place').evaluate((place) => place.scrollTo(0, place.scrollHeight));
  await expect(last).toBeVisible();
  await expect(page.locator('tr[data-index="3"] button').first()).toBeFocused();
});

test('a search as it is typed finds by burner, technician, note and date, and opens what it found', async ({
  page,
}) => {
  await goTo(page, 'Earlier');
  const search = page.getByRole('searchbox', { name: 'Search' });
  // 2024-03 has 31 days, of which every other one was Odegaard's: days 60 to 90, the even ones.
  for (const [text, answer] of [
    ['lau', '62 captures found'],
    ['2024-03', '31 captures found'],
    ['odeg 2024-03', '16 captures found'],
    ['s\u00f8ndergard', '125 captures found'],
    ['"NOT (', 'Nothing found'],
    ['electrode', '1 capture found'],
  ] as const) {
    await search.fill(text);
    await expect(found(page)).toHaveText(answer);
  }
  await look(page, 'many-captures-found');
  await expect(rows(page)).toHaveCount(1);
  await rows(page).getByRole('button', { name: /^Open/u }).click();
  await expect(page.locator('.strip')).toContainText('Boiler 7');
});
