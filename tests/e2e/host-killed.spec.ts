import { button, expect, goTo, look, startWorkbench, test, untilLive } from './workbench.ts';

// One recording for all of it: what the page of a dead host still shows, and what the next start says.
test('a host that was killed with gas on and no flame: its page offers nothing, and the next start says so', async ({
  context,
  workbench,
}) => {
  // Not the page of the fixture: the browser rightly reports the lost connection as an error.
  const page = await context.newPage();
  await page.goto(workbench.url);
  await button(page, 'Connect both practice meters').click();
  await button(page, 'Use this burner’s data').click();
  await goTo(page, 'Sweep');
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
  // Where recording is begun, the header does not offer to go there.
  await expect(page.getByRole('banner').getByRole('button')).toHaveCount(0);
  await button(page, 'Start recording').click();
  await page.getByText('Faults to practice').click();
  await button(page, 'Test switch not jumpered').click();
  await page.waitForTimeout(6000);
  await button(page, 'Blow off the flame').click();
  await untilLive(page, 'Flame signal', (signal) => signal < 0.5);
  await expect(page.getByRole('alert').filter({ hasText: 'Gas off. Full purge.' })).toBeVisible();
  await goTo(page, 'Light-off');
  await button(page, 'Add a trial by hand').click();
  await workbench.end('SIGKILL');

  const dialog = page.getByRole('dialog');
  await expect(dialog).toContainText('The connection to Pilot Bench was lost');
  await expect(dialog.getByRole('button', { name: 'Cancel' })).toBeDisabled();
  await look(page, 'killed-dialog');
  await dialog.getByRole('button', { name: 'Close' }).click();
  await expect(page.getByRole('main').locator('button:enabled, input:enabled, select:enabled')).toHaveCount(0);
  await expect(page.getByRole('complementary').locator('button:enabled, input:enabled, select:enabled')).toHaveCount(0);
  for (const name of ['Pilot pressure', 'Flame signal']) {
    const shown = page.getByRole('region', { name, exact: true });
    await expect(shown).toHaveText(/No reading for \d+ s.*–/u);
    await expect(shown.getByText('–')).toBeVisible();
  }
  await expect(page.getByRole('main')).not.toContainText(/\d\.\d\d|Ready|can begin/u);
  await expect(page.getByRole('banner').getByRole('button')).toHaveCount(0);
  await look(page, 'killed-light-off');
  await goTo(page, 'Meters');
  await expect(page.getByRole('main')).not.toContainText(/\d\.\d\d|Live/u);
  await look(page, 'killed-meters');

  const again = await startWorkbench(workbench.folder);
  const next = await context.newPage();
  await next.goto(again.url);
  const alarm = next.getByRole('alert').filter({ hasText: 'Gas was on, no flame' });
  await expect(alarm).toContainText('Gas off. Full purge.');
  await look(next, 'killed-next-start');
  await button(next, 'Gas is off, purged').click();
  await expect(alarm).toHaveCount(0);
  await again.end();
});
