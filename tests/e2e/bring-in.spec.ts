import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { button, expect, goTo, look, test } from './workbench.ts';

test('what of a file was not taken, and in what it differs from the store, stands beside the result', async ({
  page,
}) => {
  const { capture } = simulateVisit('clean', 1);
  const entries = writeDataPackage(capture);
  const importFile = async () => {
    const buffer = Buffer.from(writeZip(entries));
    await page.getByLabel('Files to import').setInputFiles({ name: 'visit.zip', mimeType: 'application/zip', buffer });
  };
  const notice = (text: string) => page.getByRole('region', { name: 'Import files' }).getByText(text);

  await goTo(page, 'Earlier');
  await importFile();
  await expect(notice('One capture added.')).toBeVisible();
  await importFile();
  await expect(notice('One capture was already in the store.')).toBeVisible();
  await expect(notice('visit.zip')).toHaveCount(0);

  const trials = new TextDecoder().decode(entries.get('trials.csv')).split('\n');
  entries.set('trials.csv', new TextEncoder().encode([...trials.slice(0, -2), ''].join('\n')));
  entries.delete('marks.csv');
  await importFile();
  await expect(notice('visit.zip: marks.csv is named in datapackage.json, but is not in the package.')).toBeVisible();
  await expect(notice(`visit.zip: capture ${capture.id} is already in the store`)).toContainText('marks, trials');
  await expect(notice('One capture was already in the store.')).toBeVisible();

  // What its trials prove stands on its own place; nothing is advised for a visit that is complete.
  await button(page, /^Open /).click();
  await goTo(page, 'Light-off');
  const proved = page.getByRole('region', { name: 'What is proved, and what comes next' });
  await expect(proved).toContainText(/At \d\.\d\d inH2O: with the spark at once lit \d of \d: at least \d+ %/u, {
    timeout: 60_000,
  });
  await expect(proved).not.toContainText('Next trial');
  await look(page, 'light-off-proved');
});

test('an imported capture that was interrupted is not recorded on: it says why, and is completed as it is', async ({
  page,
}) => {
  const { capture } = simulateVisit('clean', 1);
  const buffer = Buffer.from(writeZip(writeDataPackage({ ...capture, interrupted: true })));
  await goTo(page, 'Earlier');
  await page.getByLabel('Files to import').setInputFiles({ name: 'visit.zip', mimeType: 'application/zip', buffer });
  const banner = page.locator('.notice', { hasText: 'A capture was interrupted' });
  await expect(banner).toContainText('This capture came from a file');
  await expect(button(page, /Continue/)).toHaveCount(0);
  await button(page, /^Open /).click();
  await expect(page.getByRole('region', { name: 'Recording' })).toContainText('This capture came from a file');
  await expect(button(page, /Continue/)).toHaveCount(0);
  await banner.getByRole('button', { name: 'Complete as it is' }).click();
  await expect(banner).toHaveCount(0);
  await expect(page.getByText('This visit is complete.')).toBeVisible();
});
