import type { Page } from '@playwright/test';
import { openKnownBurner } from './known-burner.ts';
import { button, connectMeters, expect, fillFields, goTo, look, test, untilLive } from './workbench.ts';

const sizes = [
  [1366, 768],
  [1024, 600],
] as const;

/** Does `check` at the sizes of a laptop and of a small one, and leaves the page at the first. */
async function atSizes(page: Page, name: string, check?: () => Promise<void>) {
  for (const [width, height] of sizes) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(150);
    await look(page, `light-off-${name}-${width}`);
    await check?.();
  }
  await page.setViewportSize({ width: sizes[0][0], height: sizes[0][1] });
}

/** What must be in view whole, with nothing to scroll. */
const inView =
  (page: Page, ...more: string[]) =>
  async () => {
    for (const what of ['.live-panel >> nth=0', '.live-panel >> nth=1', '.trial-clock', ...more])
      await expect.soft(page.locator(what), what).toBeInViewport({ ratio: 0.99 });
  };
const picture = '.lighting-picture';
const firstTrial = '.trial-head >> nth=0';

const trialRows = (page: Page) => page.getByRole('region', { name: 'Trials of this visit' }).getByRole('listitem');

test.setTimeout(400_000);

test('what is read next at Light-off is in view on small laptops before, during the purge and when ready', async ({
  page,
  folder,
}) => {
  const burner = await openKnownBurner(folder);
  const ready = () => expect(page.getByText('Ready for the next trial').first()).toBeVisible({ timeout: 30_000 });
  let made = 0;
  /** Gas on, a flame, and the entry of the trial; gas stays on until it is shut. */
  const makeTrial = async () => {
    burner.setFlame(false);
    burner.setValve(true);
    await expect(page.getByRole('region', { name: 'Running trial' })).toBeVisible({ timeout: 10_000 });
    burner.setFlame(true);
    made += 1;
    await expect(trialRows(page)).toHaveCount(made, { timeout: 30_000 });
  };
  try {
    await fillFields(page, {
      'Minimum flame signal': 1.25,
      'Pilot trial time': 8,
      'Purge before each trial': 6,
      'Fan-only pressure': 0.2,
      'Longest spark delay agreed': 4,
      'Lowest pressure agreed for trials': 1,
      'Highest pressure agreed for trials': 4,
    });
    await connectMeters(page, burner);
    await goTo(page, 'Sweep');
    await button(page, 'Start recording').click();
    await untilLive(page, 'Flame signal', (signal) => signal > 4.5);
    await goTo(page, 'Light-off');
    await page.waitForTimeout(1500);
    await atSizes(page, '1-no-sweep-burning');
    burner.setValve(false);
    burner.setFlame(false);
    await page.waitForTimeout(2500);
    await expect(page.getByRole('region', { name: 'What is proved, and what comes next' })).toContainText(
      'A sweep has to find the window first.',
    );
    await atSizes(page, '1-no-sweep', inView(page));
    await button(page, 'Fan is running').click();
    await ready();
    await atSizes(page, '1-no-sweep-ready');
    await button(page, 'The control sparks with the gas').click();
    await makeTrial();
    await goTo(page, 'Sweep');
    await button(page, 'Begin sweep').click();
    await burner.turnTo(0.95, 0.25);
    await burner.turnTo(4.25, 0.25);
    await burner.turnTo(2.55, 0.25);
    await button(page, 'End sweep').click();
    burner.setValve(false);
    burner.setFlame(false);
    await goTo(page, 'Light-off');
    await page.waitForTimeout(3000);
    await atSizes(page, '2-purge-after-sweep', inView(page, firstTrial));
    await ready();
    await expect(page.locator('.next-trial')).toBeVisible({ timeout: 30_000 });
    await atSizes(page, '3-ready', inView(page, '.next-trial', '.plan-line', picture, firstTrial));
    await atSizes(page, '4-delayed', async () => {
      await button(page, 'Spark with gas').click();
      await button(page, 'Delayed spark').click();
      await expect.soft(button(page, 'Announce delayed spark')).toBeInViewport({ ratio: 0.99 });
    });
  } finally {
    burner.close();
  }
});
