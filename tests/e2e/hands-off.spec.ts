import type { Page } from '@playwright/test';
import { openKnownBurner } from './known-burner.ts';
import { button, connectMeters, expect, goTo, look, startWorkbench, test, untilLive } from './workbench.ts';

test.use({ viewport: { width: 1366, height: 768 } });

const alarm = (page: Page) => page.locator('.alarm-banner');
const band = (page: Page) => page.getByRole('region', { name: 'Time line of the visit' });
const trials = (page: Page) => page.getByRole('region', { name: 'Trials of this visit' }).getByRole('listitem');
/** Nothing asks to turn, and nothing is praised, while gas may be unlit. */
const expectNoPraise = async (page: Page) => {
  await expect(page.locator('main')).not.toContainText(/In range|Signal OK|Turn in|Turn out|On target|Ready for/u);
  await expect(page.getByRole('banner')).not.toContainText(/Turn slowly/u);
};
/** The page at the sizes of small laptops and of a phone: no part pokes out of it. */
const lookAtSizes = async (page: Page, name: string) => {
  for (const [width, height] of [
    [1024, 600],
    [400, 800],
    [1366, 768],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(400);
    await look(page, `${name}-${width}`);
    const wide = await page.evaluate(() =>
      [document.documentElement, document.querySelector('main')!].map((box) => box.scrollWidth - box.clientWidth),
    );
    expect(Math.max(...wide), `${name} at ${width}`).toBeLessThanOrEqual(0);
  }
};

test('a whole walk with two serial meters, hands off the laptop where the meters tell', async ({
  page: firstPage,
  context,
  folder,
  workbench,
}) => {
  let page = firstPage;
  const burner = await openKnownBurner(folder);
  burner.setValve(false);
  try {
    await test.step('a fan-only pressure that the manometer contradicts is said, and what it reads is offered', async () => {
      for (const [name, value] of [
        ['Burner name', 'Boiler 2'],
        ['Minimum flame signal', '1.25'],
        // A busy machine may take long from gas to flame.
        ['Pilot trial time', '20'],
        ['Purge before each trial', '6'],
        ['Fan-only pressure', '1.2'],
      ] as const) {
        await page.getByLabel(name, { exact: true }).first().fill(value);
        await page.getByLabel(name, { exact: true }).first().blur();
      }
      await connectMeters(page, burner);
      await goTo(page, 'Sweep');
      await button(page, 'Start recording').click();
      await goTo(page, 'Burner');
      await expect(page.getByText('With gas shut the manometer reads 0.20 inH2O.')).toBeVisible({ timeout: 15_000 });
      await look(page, 'fan-only');
      await button(page, 'Use 0.20 inH2O').click();
      await expect(page.getByLabel('Fan-only pressure', { exact: true }).first()).toHaveValue('0.20');
    });

    await test.step('gas begins a trial; it can be picked on the time line while it runs', async () => {
      await goTo(page, 'Light-off');
      await button(page, 'The control sparks with the gas').click();
      await expect(page.getByText('Purge first: none is on record.').first()).toBeVisible({ timeout: 15_000 });
      await goTo(page, 'Sweep');
      await page.waitForTimeout(3000);
      await button(page, 'Record as-found').click();
      await expect(page.getByText('The pilot gas is shut. There is nothing to set or record')).toBeVisible();
      await expect(page.getByRole('button', { name: /steady flame: record/u })).toHaveCount(0);
      burner.setFlame(false);
      burner.setValve(true);
      const running = band(page).getByRole('button', { name: /^Running trial, .* to now, running$/u });
      await running.click();
      await expect(page.getByRole('dialog', { name: 'Running trial' })).toContainText('still running');
      await look(page, 'running-trial');
      await button(page, 'Go to the trials').click();
      burner.setFlame(true);
      await expect(trials(page)).toHaveCount(1, { timeout: 20_000 });
      await expect(trials(page).first()).toContainText(/Lit.*2\.50 inH2O.*spark with gas/u);
      await lookAtSizes(page, 'trials');
    });

    await test.step('as-found before the regulator is turned, then the sweep', async () => {
      await expect(page.getByRole('banner')).toContainText('Record as-found before turning anything');
      await goTo(page, 'Sweep');
      await untilLive(page, 'Flame signal', (signal) => signal > 4.4);
      await page.waitForTimeout(3000);
      await burner.turnTo(2.0, 0.12);
      await expect(page.getByRole('banner')).toContainText('As-found was not taken. Begin the sweep', {
        timeout: 10_000,
      });
      await button(page, 'Begin sweep').click();
      await burner.turnTo(1.1, 0.12);
      await burner.turnTo(3.95, 0.12);
      await lookAtSizes(page, 'sweep');
    });

    await test.step('the flame is lost in the sweep: one thing is said, in the same words everywhere', async () => {
      burner.setFlame(false);
      await expect(alarm(page)).toContainText('Flame lost, gas on', { timeout: 10_000 });
      await expectNoPraise(page);
      await expect(page.getByText(/Flame lost, gas on: Shut the gas now/u)).toBeVisible();
      await lookAtSizes(page, 'lost');
      burner.setValve(false);
      await expect(alarm(page)).toHaveCount(0, { timeout: 10_000 });
      await page.waitForTimeout(4000);
      await look(page, 'lost-shut');
      await button(page, 'End sweep').click();
    });

    await test.step('the purge is a wait until air is known, and the next trial comes without a touch', async () => {
      await goTo(page, 'Light-off');
      await expect(page.getByText(/^Waited \d+ s; not a purge: the fan is not confirmed/u)).toBeVisible();
      // The purge is 6 s long; its figure stands until it runs.
      await expect(page.locator('.trial-clock .figure')).toHaveText('6 s');
      await look(page, 'wait');
      await button(page, 'Fan is running').click();
      await expect(page.getByText('Purge done')).toBeVisible({ timeout: 20_000 });
      // Nothing bounds the trials of this burner, so none is advised; one that is made is recorded all the same.
      await expect(page.getByText('Enter one of them before any trial.')).toBeVisible();
      await expect(page.getByText('Ready for the next trial')).toHaveCount(0);
      void burner.turnTo(2.46, 5);
      await page.waitForTimeout(500);
      burner.setFlame(true);
      burner.setValve(true);
      await expect(trials(page)).toHaveCount(2, { timeout: 20_000 });
    });

    await test.step('as-left off the target is asked about', async () => {
      await goTo(page, 'Set');
      await page.getByLabel('Target pressure').fill('2.28');
      await untilLive(page, 'Flame signal', (signal) => signal > 4.4);
      await expect(page.getByText('too high')).toBeVisible({ timeout: 15_000 });
      await look(page, 'set');
      await button(page, 'Record as-left').click();
      const dialog = page.getByRole('dialog');
      await expect(dialog).toContainText(/It is 0\.18 inH2O above the target, 2\.28 inH2O/u);
      await look(page, 'as-left');
      await dialog.getByRole('button', { name: 'Keep adjusting' }).click();
      await expect(page.getByText('Not recorded yet.')).toBeVisible();
    });

    await test.step('meters that freeze or fall silent: nothing is praised, no old number shown', async () => {
      burner.setFault('gauge', 'frozen');
      await expect(page.getByText(/^Frozen/u)).toBeVisible({ timeout: 30_000 });
      await look(page, 'frozen');
      await expectNoPraise(page);
      burner.setFault('gauge', 'silent');
      await expect(page.getByText(/^No reading/u).first()).toBeVisible({ timeout: 15_000 });
      await look(page, 'silent');
      await expectNoPraise(page);
      burner.setFlame(false);
      await expect(alarm(page)).toContainText('No flame, gas may be flowing', { timeout: 10_000 });
      await look(page, 'silent-lost');
      await expectNoPraise(page);
      burner.setFault('gauge', undefined);
      burner.setValve(false);
      await expect(alarm(page)).toHaveCount(0, { timeout: 15_000 });
    });

    await test.step('gas on with a dead signal meter: no flame that nobody saw is called lost', async () => {
      await goTo(page, 'Sweep');
      await page.waitForTimeout(7000);
      burner.setFault('flame', 'silent');
      await page.waitForTimeout(5000);
      burner.setValve(true);
      await expect(alarm(page)).toContainText('Gas on, no meter shows a flame', { timeout: 40_000 });
      await expect(alarm(page)).not.toContainText('lost');
      await expect(page.getByText(/Gas on, no meter shows a flame: Unless you see it burn/u)).toBeVisible();
      await look(page, 'unseen');
      burner.setValve(false);
      burner.setFault('flame', undefined);
      await expect(alarm(page)).toHaveCount(0, { timeout: 15_000 });
    });

    await test.step('killed in a trial: the visit goes on with all it had, and the trial waits for a verdict', async () => {
      await page.waitForTimeout(8000);
      burner.setValve(true);
      await expect(band(page).getByRole('button', { name: /^Running trial/u })).toBeVisible({ timeout: 15_000 });
      await page.close();
      await workbench.end('SIGKILL');
    });
    const next = await startWorkbench(folder);
    try {
      page = await context.newPage();
      await page.setViewportSize({ width: 1366, height: 768 });
      await page.goto(next.url);
      await button(page, 'Continue recording').first().click();
      await goTo(page, 'Sweep');
      await button(page, 'All').click();
      await expect(band(page).getByRole('button', { name: /^Sweep 1, .* counts$/u })).toBeVisible({ timeout: 15_000 });
      // What was before is there again: the flame of the sweep, its loss, and the gas that was shut.
      await expect
        .poll(() => page.locator('.visit-stretches path.stretch-lit').getAttribute('d'), { timeout: 30_000 })
        .toMatch(/M/u);
      expect(await page.locator('.visit-stretches path.stretch-lost').getAttribute('d')).toMatch(/M/u);
      await lookAtSizes(page, 'continued');
      await goTo(page, 'Light-off');
      await expect(trials(page).first()).toContainText('Not judged');
      await look(page, 'not-judged');
      await button(page, 'Enter or discard').click();
      await expect(page.getByRole('dialog')).toContainText(/the meters showed .* inH2O and .* V/u);
      await page.getByLabel('Reason').fill('The program was killed');
      await look(page, 'enter-or-discard');
      await button(page, 'Discard trial').click();
      await expect(trials(page).first()).toContainText('Discarded: The program was killed');
    } finally {
      await next.end();
    }
  } finally {
    burner.close();
  }
});
