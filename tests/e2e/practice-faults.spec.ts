import type { Page } from '@playwright/test';
import { button, expect, goTo, picture, setControl, test, untilLive } from './workbench.ts';

const bench = (page: Page) => page.getByRole('complementary', { name: 'Practice bench' });
const sequence = (page: Page, word: string) => bench(page).getByText(word, { exact: true }).first();
const alarm = (page: Page) => page.getByRole('alert').filter({ hasText: 'Gas off. Full purge.' });

/** Pilot held, both meters and the burner's data there, the list of faults open. */
async function atThePilot(page: Page): Promise<void> {
  await button(page, 'Connect both practice meters').click();
  await button(page, 'Use this burner’s data').click();
  await setControl(page, { Prepurge: 6, Postpurge: 1 });
  await page.getByText('Faults to practice').click();
  await expect(sequence(page, 'Pilot held')).toBeVisible();
  await goTo(page, 'Sweep');
  // Long enough burning for the program to know the flame.
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
  await page.waitForTimeout(8000);
}

test('a lost flame: the control shuts the valve and locks out, until it is reset by hand and lights anew', async ({
  page,
}) => {
  await atThePilot(page);
  await button(page, 'Blow off the flame').click();
  await expect(alarm(page)).toBeVisible();
  await expect(sequence(page, 'Lockout')).toBeVisible();
  await untilLive(page, 'Pilot pressure', (pressure) => pressure < 0.3);
  await expect(alarm(page)).toHaveCount(0);
  await button(page, 'Reset by hand').click();
  await expect(sequence(page, 'Prepurge')).toBeVisible();
  await expect(sequence(page, 'Trial for ignition')).toBeVisible();
  await expect(sequence(page, 'Pilot held')).toBeVisible();
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
});

test('a question on the screen does not hide the alarm', async ({ page }) => {
  await atThePilot(page);
  await button(page, 'Start recording').click();
  await goTo(page, 'Light-off');
  const main = page.getByRole('main');
  await expect(main).toContainText('Gas on begins the trial by itself');
  await button(page, 'Test switch not jumpered').click();
  await button(page, 'Blow off the flame').click();
  await expect(alarm(page)).toBeVisible();
  // Nothing leads to another trial while there is one thing to do.
  await expect(main).toContainText('Shut the gas now');
  await expect(main).not.toContainText(/begins the trial|still needed|next trial/iu);
  await button(page, 'Add a trial by hand').click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByRole('alert')).toContainText('Gas off. Full purge.');
  await dialog.getByRole('button', { name: 'Mute' }).click();
  await picture(page, 'alarm-and-question');
  await page.keyboard.press('Escape');
  // The same alarm, still muted.
  await expect(dialog).toHaveCount(0);
  await expect(alarm(page)).toHaveCount(1);
  await expect(button(page, 'Sound on')).toBeVisible();
  // Nor does anything lead to a sweep.
  await goTo(page, 'Sweep');
  await expect(button(page, 'Begin sweep')).toBeDisabled();
});

test('a jumpered test switch: the alarm stays until the technician stops the burner', async ({ page }) => {
  await atThePilot(page);
  await button(page, 'Test switch not jumpered').click();
  await expect(page.getByText('Faults to practice: 1 on')).toBeVisible();
  await button(page, 'Blow off the flame').click();
  await expect(alarm(page)).toBeVisible();
  // The control would have shut the valve after 4 s.
  await page.waitForTimeout(8000);
  await expect(alarm(page)).toBeVisible();
  await expect(sequence(page, 'Pilot held')).toBeVisible();
  await button(page, 'Stop burner').click();
  await expect(alarm(page)).toHaveCount(0);
});

test('a valve that is stuck open is told where the valve is wired; by keyboard', async ({ page }) => {
  await atThePilot(page);
  await button(page, 'Connect fan, spark and valve').press('Enter');
  const valve = bench(page).getByLabel('Pilot valve');
  await valve.focus();
  await page.keyboard.press('ArrowDown');
  await expect(valve).toHaveValue('stuck-open');
  await page.waitForTimeout(1000);
  await button(page, 'Stop burner').press('Space');
  await expect(bench(page).getByText('it is stuck open')).toBeVisible();
  await expect(alarm(page)).toBeVisible();
  await valve.selectOption('sound');
  await expect(alarm(page)).toHaveCount(0);
});

test('where the fan is wired, the control’s own purge counts without a word of the technician', async ({ page }) => {
  await atThePilot(page);
  await button(page, 'Connect fan, spark and valve').click();
  await setControl(page, { Postpurge: 60 });
  await button(page, 'Start recording').click();
  await expect(page.getByRole('banner')).toContainText('Recording');
  await goTo(page, 'Light-off');
  await button(page, 'Stop burner').click();
  await expect(sequence(page, 'Postpurge')).toBeVisible();
  const clock = page.locator('.trial-clock');
  await expect(clock).toContainText('Purge');
  await expect(clock).not.toContainText('Wait');
  // The burner wants 60 s of purge: 15 s later it has counted down well below that.
  await expect.poll(async () => Number(/(\d+) s/.exec((await clock.textContent())!)?.[1])).toBeLessThan(55);
});
