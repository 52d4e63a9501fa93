import type { Page } from '@playwright/test';
import { button, expect, goTo, look, test, untilLive } from './workbench.ts';

test.use({ viewport: { width: 1280, height: 800 } });

/** Heights in pixels of the two plots against time, their axes left out. */
const plotHeights = (page: Page): Promise<number[]> =>
  page
    .locator('figure.plot')
    .filter({ hasText: 'against time' })
    .locator('.recharts-cartesian-grid')
    .evaluateAll((plots) => plots.map((plot) => plot.getBoundingClientRect().height));

test('the sweep on a laptop of 1280 by 800: its plots against time can be read and Finish is in view, alarm or not', async ({
  page,
}) => {
  await button(page, 'Connect both practice meters').click();
  await button(page, 'Use this burner’s data').click();
  await goTo(page, 'Sweep');
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
  await button(page, 'Start recording').click();
  await page.getByText('Faults to practice').click();
  await button(page, 'Test switch not jumpered').click();
  await button(page, 'Close the practice bench').click();
  await page.waitForTimeout(6000);
  await look(page, 'sweep-1280');
  expect(Math.min(...(await plotHeights(page)))).toBeGreaterThan(60);
  await page.setViewportSize({ width: 1024, height: 600 });
  await look(page, 'sweep-1024');
  await expect(button(page, 'Begin sweep')).toBeInViewport({ ratio: 1 });
  await page.setViewportSize({ width: 1280, height: 800 });
  await button(page, 'Open the practice bench').click();
  await page.getByText('Faults to practice').click();
  await button(page, 'Blow off the flame').click();
  await expect(page.getByRole('alert').filter({ hasText: 'Gas off. Full purge.' })).toBeVisible();
  await button(page, 'Close the practice bench').click();
  await look(page, 'sweep-1280-alarm');
  await expect(page.getByRole('button', { name: 'Finish' })).toBeInViewport({ ratio: 1 });
  expect(Math.min(...(await plotHeights(page)))).toBeGreaterThan(60);
});
