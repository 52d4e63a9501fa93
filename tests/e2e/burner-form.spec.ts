import type { Page } from '@playwright/test';
import { expect, goTo, look, test } from './workbench.ts';

const field = (page: Page, name: string) => page.getByLabel(name, { exact: true });

test.use({ viewport: { width: 1280, height: 800 } });

test('the plan and the limits of light-off trials are typed on the page, and a form kept before they came still opens', async ({
  page,
}) => {
  await field(page, 'Longest spark delay agreed').fill('5');
  await field(page, 'Highest pressure agreed for trials').fill('3,6');
  await field(page, 'A setting is proved by').selectOption({ label: 'A probability to light' });
  await field(page, 'Lights in at least').fill('95');
  await field(page, 'Flame signal without flame and spark').fill('0.02');
  await expect(field(page, 'Trials with the spark at once')).toHaveCount(0);
  await goTo(page, 'Meters');
  await page.reload();
  await goTo(page, 'Burner');
  await expect(field(page, 'Longest spark delay agreed')).toHaveValue('5');
  await expect(field(page, 'Highest pressure agreed for trials')).toHaveValue('3,6');
  await expect(field(page, 'Lights in at least')).toHaveValue('95');
  await look(page, 'burner-form');
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('pilot-bench')!) as { state: { setup: Record<string, string> } };
    for (const later of ['longestDelay', 'trialLow', 'planKind', 'darkSignal', 'mostFailures'])
      delete kept.state.setup[later];
    localStorage.setItem('pilot-bench', JSON.stringify(kept));
  });
  await page.reload();
  await expect(field(page, 'Longest spark delay agreed')).toHaveValue('');
  await expect(field(page, 'Highest pressure agreed for trials')).toHaveValue('3,6');
  await field(page, 'Longest spark delay agreed').fill('none');
  await expect(page.getByText('"none" is not a number.')).toBeVisible();
});
