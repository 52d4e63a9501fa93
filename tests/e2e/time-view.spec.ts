import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Page } from '@playwright/test';
import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import { button, expect, goTo, look, pilotBench, test as base } from './workbench.ts';

/** Ten minutes at two readings a second: 2 inH2O and 4 V in the first half, 3 inH2O and 1 V from then on. */
const readings = Array.from({ length: 1200 }, (_, i) => ({ elapsedS: i / 2, isLate: i >= 600 })).flatMap(
  ({ elapsedS, isLate }) => [
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS, value: isLate ? 3 : 2, raw: isLate ? '3' : '2' } as const,
    { role: 'flame_signal', unit: 'V', elapsedS, value: isLate ? 1 : 4, raw: isLate ? '1' : '4' } as const,
  ],
);
const visit = {
  id: 'ten-minutes',
  startedAt: '2026-03-14T09:00:00.000+01:00',
  burner: { site: 'Brewery', name: 'Boiler 3' },
  meters: [],
  setup: {},
  readings,
  lines: [],
  marks: [],
  trials: [],
  notes: [],
};

const test = base.extend({
  // oxlint-disable-next-line no-empty-pattern
  folder: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-view-'));
    const file = join(folder, 'visit.zip');
    writeFileSync(file, writeZip(writeDataPackage(visit)));
    await pilotBench('import', file, '--data', join(folder, 'store'));
    await use(folder);
    rmSync(folder, { recursive: true, force: true });
  },
});
test.use({ viewport: { width: 1280, height: 800 } });

const plot = (page: Page, name: string) =>
  page
    .locator('figure.plot')
    .filter({ hasText: `${name} against time` })
    .locator('.pointer-area');
/** A row of the statistics, as it is read: mean, standard deviation, lowest, highest, readings. */
const values = (page: Page, row: 'Pressure, inH2O' | 'Signal, V') =>
  page.locator('.span-values tr').filter({ hasText: row }).locator('td');

test('a recording is zoomed and moved through; the pointer tells a value and a selected span its statistics', async ({
  page,
}) => {
  await goTo(page, 'Earlier');
  await page.getByRole('button', { name: /^Open/ }).first().click();
  await goTo(page, 'Sweep');
  await button(page, 'All').click();

  await test.step('all of it, by buttons alone', async () => {
    await button(page, 'Statistics').click();
    // By hand: half 2 and half 3, of n = 1200: mean 2.5, deviation 0.5 sqrt(1200 / 1199) = 0.5002.
    await expect(values(page, 'Pressure, inH2O')).toHaveText(['2.50', '0.50', '2.00', '3.00', '1,200']);
    await expect(values(page, 'Signal, V')).toHaveText(['2.50', '1.5', '1.00', '4.00', '1,200']);
    await look(page, 'time-view-statistics');
    // What was added below leaves the curve itself high enough to be read.
    const curve = page.locator('figure.plot').filter({ hasText: 'against pilot pressure' });
    expect((await curve.locator('.recharts-cartesian-grid').boundingBox())!.height).toBeGreaterThan(100);
  });

  await test.step('a span that is dragged over', async () => {
    const box = (await plot(page, 'Pilot pressure').boundingBox())!;
    const at = (share: number) => [box.x + share * box.width, box.y + box.height / 2] as const;
    await page.mouse.move(...at(0.1));
    await page.mouse.down();
    await page.mouse.move(...at(0.25), { steps: 4 });
    await page.mouse.move(...at(0.4), { steps: 4 });
    await page.mouse.up();
    await expect(values(page, 'Pressure, inH2O')).toHaveText(['2.00', '0', '2.00', '2.00', /\d+/u]);
    await expect(values(page, 'Signal, V').first()).toHaveText('4.00');
    await button(page, 'Zoom in').click();
    await page.mouse.move(...at(0.5));
    await expect(
      page.locator('figure.plot .plot-label').filter({ hasText: /^\d+:\d\d\.\d: 2\.0+ inH2O$/u }),
    ).toBeVisible();
    await look(page, 'time-view-zoomed');
  });

  await test.step('back and forth', async () => {
    const before = await page.locator('.span-values').count();
    expect(before).toBe(1);
    await button(page, 'Clear').click();
    await expect(page.locator('.span-values')).toHaveCount(0);
    await button(page, 'Show what was before').click();
    await button(page, 'Zoom out').click();
    await button(page, 'Back to end').click();
    await button(page, '1 min').click();
    await button(page, 'Statistics').click();
    await expect(values(page, 'Pressure, inH2O').first()).toHaveText('3.00');
  });

  await test.step('by keyboard', async () => {
    await button(page, 'Clear').click();
    await button(page, 'All').click();
    const pointer = page.getByRole('slider', { name: 'Value of pilot pressure at a time' });
    await pointer.focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('PageUp');
    await expect(pointer).toHaveAttribute('aria-valuetext', /^\d+:\d\d\.\d: 2\.0+ inH2O$/u);
    await page.keyboard.press('End');
    await expect(pointer).toHaveAttribute('aria-valuetext', /: 3\.0+ inH2O$/u);
    for (let k = 0; k < 3; k += 1) await page.keyboard.press('Shift+PageDown');
    await expect(values(page, 'Pressure, inH2O')).toHaveText(['3.00', '0', '3.00', '3.00', /\d+/u]);
    await look(page, 'time-view-keyboard');
  });
});
