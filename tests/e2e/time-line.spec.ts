import type { Page } from '@playwright/test';
import { button, expect, goTo, look, test, untilLive } from './workbench.ts';

const band = (page: Page) => page.getByRole('region', { name: 'Time line of the visit' });
/** Where the signal's plot has lines and the time line has shut gas, in pixels of the screen. */
const drawn = (page: Page) =>
  page.evaluate(() => {
    const left = (element: Element) => element.closest('svg')!.getBoundingClientRect().left;
    const line = document.querySelector('.sweep-plots path[data-name="line-signal"]')!;
    const shut = document.querySelector('.visit-stretches path.stretch-shut')!;
    const lines = (line.getAttribute('d') ?? '')
      .split('M')
      .slice(1)
      .map((one) => one.split('L').map((point) => left(line) + Number.parseFloat(point)));
    const boxes = [...(shut.getAttribute('d') ?? '').matchAll(/M([\d.]+) [\d.]+h([\d.]+)/g)].map(([, x, width]) => ({
      from: left(shut) + Number(x),
      to: left(shut) + Number(x) + Number(width),
    }));
    return { lines: lines.map((xs) => ({ from: Math.min(...xs), to: Math.max(...xs) })), boxes };
  });

/** Gas was shut, and no line of the signal leads into it or across it. The plots move by less than 3 pixels between two frames. */
async function expectNoLineAcross(page: Page): Promise<void> {
  const { lines, boxes } = await drawn(page);
  expect(boxes.length).toBeGreaterThan(0);
  expect(lines.length).toBeGreaterThan(0);
  for (const box of boxes) expect(lines.filter(({ from, to }) => from < box.to - 3 && to > box.from + 3)).toEqual([]);
}

test('the time line of a visit: sweeps are picked and discarded, and no line crosses a stretch without a flame', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await button(page, 'Connect both practice meters').click();
  await button(page, 'Use this burner’s data').click();
  await button(page, 'Hand').click();
  await goTo(page, 'Sweep');
  await button(page, 'Start recording').click();
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
  await expect(band(page).getByRole('img', { name: 'Burner: flame' })).toBeVisible({ timeout: 30_000 });

  await test.step('as-found asks once the regulator was turned, though no sweep was begun', async () => {
    await button(page, 'Turn out slowly').click();
    await page.waitForTimeout(5000);
    await button(page, 'Turn out slowly').click();
    await button(page, 'Record as-found').click();
    await expect(page.getByText('may have been turned')).toBeVisible();
    await expect(button(page, 'Not turned, and a steady flame: record as-found')).toBeVisible();
  });

  await test.step('a running sweep is discarded by keyboard, with a reason, and begun again', async () => {
    await button(page, 'Begin sweep').click();
    await page.waitForTimeout(4000);
    const sweep = band(page).getByRole('button', { name: /^Sweep 1, .* to now, running$/ });
    await sweep.focus();
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Sweep 1' });
    await expect(dialog).toContainText(/Pilot pressure\s*\d\.\d\d to \d\.\d\d inH2O/);
    await expect(dialog.getByRole('button', { name: 'Discard sweep' })).toBeDisabled();
    await dialog.getByLabel('Reason to discard it').fill('turned too fast');
    await look(page, 'discard');
    await dialog.getByRole('button', { name: 'Discard and begin again' }).click();
    await expect(band(page).getByRole('button', { name: /^Sweep 1, .* discarded$/ })).toBeVisible();
    await expect(band(page).getByRole('button', { name: /^Sweep 2, .* running$/ })).toBeVisible();
  });

  await test.step('with the valve shut the line ends, and what follows is another one', async () => {
    await button(page, 'Pilot valve open').click();
    await expect(band(page).getByRole('img', { name: 'Burner: gas shut' })).toBeVisible({ timeout: 30_000 });
    await page.waitForTimeout(6000);
    await expectNoLineAcross(page);
    await look(page, 'shut');
    await button(page, 'Spark off').click();
    await button(page, 'Pilot valve closed').click();
    await expect(band(page).getByRole('img', { name: 'Burner: flame' })).toBeVisible({ timeout: 60_000 });
    await page.waitForTimeout(3000);
    await button(page, '5 min').click();
    await page.waitForTimeout(1000);
    await expectNoLineAcross(page);
    await look(page, 'relit');
  });

  await test.step('a second window and a reload know it too', async () => {
    await page.reload();
    await button(page, '5 min').click();
    await expect(band(page).getByRole('img', { name: 'Burner: flame' })).toBeVisible({ timeout: 30_000 });
    await page.waitForTimeout(1000);
    await expectNoLineAcross(page);
  });

  await test.step('the page still fits, light and dark', async () => {
    for (const [width, height] of [
      [1366, 768],
      [1280, 800],
      [1024, 768],
    ] as const) {
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(500);
      await look(page, `sweep-${width}`);
    }
    await page.emulateMedia({ colorScheme: 'dark' });
    await look(page, 'sweep-dark');
    await page.emulateMedia({ colorScheme: 'light' });
    await page.setViewportSize({ width: 1280, height: 800 });
  });

  await test.step('a sweep of the finished visit can be discarded as well', async () => {
    await button(page, 'End sweep').click();
    await button(page, 'Finish').click();
    await page.getByRole('dialog').getByRole('button', { name: 'Finish' }).click();
    await expect(page.getByRole('heading', { name: 'Proof', exact: true })).toBeVisible();
    await goTo(page, 'Sweep');
    await button(page, 'All').click();
    const sweep = band(page).getByRole('button', { name: /^Sweep 2, .* counts$/ });
    await sweep.click();
    await page.getByLabel('Reason to discard it').fill('the valve was shut in it');
    await look(page, 'finished');
    await button(page, 'Discard sweep').click();
    await expect(band(page).getByRole('button', { name: /^Sweep 2, .* discarded$/ })).toBeVisible();
  });
});
