import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { openKnownBurner, truth } from './known-burner.ts';
import {
  analyzedAsShown,
  button,
  connectMeters,
  expect,
  goTo,
  pilotBench,
  test,
  tile,
  untilLive,
} from './workbench.ts';

test('two serial meters on a burner whose ends are known: screen, JSON and PDF agree with each other and the truth', async ({
  page,
  folder,
}) => {
  const burner = await openKnownBurner(folder);
  try {
    await connectMeters(page, burner);
    await goTo(page, 'Sweep');
    await button(page, 'Start recording').click();
    await untilLive(page, 'Flame signal', (signal) => signal > 4.5);
    await button(page, 'Begin sweep').click();
    await burner.turnTo(0.9, 0.12);
    await page.waitForTimeout(2000);
    await burner.turnTo(4.3, 0.12);
    await page.waitForTimeout(2000);
    await burner.turnTo(2.5, 0.12);
    await button(page, 'End sweep').click();

    await goTo(page, 'Window');
    await expect(page.getByText('Set point', { exact: true })).toBeVisible({ timeout: 30_000 });
    const shown = {
      low: await tile(page, 'Low end'),
      high: await tile(page, 'High end'),
      set: await tile(page, 'Set point'),
    };

    await goTo(page, 'Proof');
    await button(page, 'Finish visit').click();
    await button(page, 'Finish').click();
    await expect(page.getByText('Complete. Nothing more is recorded')).toBeVisible();
    const save = async (name: string, file: string) => {
      const [download] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
      await download.saveAs(join(folder, file));
    };
    await save('Save PDF', 'proof.pdf');
    await save('Save data package', 'visit.zip');

    const json = await analyzedAsShown(join(folder, 'visit.zip'), shown);
    const pdf = execFileSync('pdftotext', ['-layout', join(folder, 'proof.pdf'), '-']).toString();
    // Each number in its place: the table of the ends, and the facts of the set point.
    expect(pdf).toMatch(new RegExp(`^ *Low end +${shown.low} `, 'mu'));
    expect(pdf).toMatch(new RegExp(`^ *High end +${shown.high} `, 'mu'));
    expect(pdf).toMatch(new RegExp(`^ *Set point +${shown.set} inH2O`, 'mu'));

    // 0.02 inH2O: the meter's last digit, its noise, and half the 5 Hz signal's sampling at 0.12 inH2O a second.
    expect(Math.abs(json.signalInterval.low.value - truth.low)).toBeLessThan(0.02);
    expect(Math.abs(json.signalInterval.high.value - truth.high)).toBeLessThan(0.02);
    expect(Math.abs(json.plateau.value - truth.plateau)).toBeLessThan(0.01);
  } finally {
    burner.close();
  }
});

test('each fault is shown in one sentence, and what was recorded is not lost', async ({ page, folder, workbench }) => {
  const burner = await openKnownBurner(folder);
  await goTo(page, 'Meters');
  const connect = async (port: string) => {
    await page.getByRole('radio', { name: 'Other' }).check();
    await page.getByLabel('Port name').fill(port);
    await button(page, 'Connect').click();
  };
  await connect(join(folder, 'nothing-here'));
  await expect(
    page.getByText(`There is no port ${join(folder, 'nothing-here')}.`, { exact: false }).first(),
  ).toBeVisible();
  await button(page, 'Disconnect').click();

  await connect(burner.gaugePort);
  await expect(page.getByRole('region', { name: /^Manometer/ })).toContainText('Live');
  await goTo(page, 'Sweep');
  await button(page, 'Start recording').click();
  await page.waitForTimeout(2000);
  burner.close();
  await expect(page.getByText(/No reading|was disconnected/).first()).toBeVisible();

  await goTo(page, 'Earlier');
  const files = page.getByLabel('Files to import');
  await files.setInputFiles([{ name: 'wrong.zip', mimeType: 'application/zip', buffer: Buffer.from('PK no package') }]);
  await expect(page.getByText(/^wrong\.zip/u)).toBeVisible();
  // A text file that is not ours may be another logger's: it is asked about, and not imported before that is answered.
  await files.setInputFiles([{ name: 'wrong.csv', mimeType: 'text/csv', buffer: Buffer.from('time,a\n1,2\n') }]);
  const mapper = page.getByRole('region', { name: 'How to read wrong.csv' });
  await expect(mapper).toContainText(/Import (?:waits|is not possible)/u, { timeout: 60_000 });
  await expect(mapper.getByRole('button', { name: 'Import', exact: true })).toBeDisabled();

  await page.close();
  await workbench.end('SIGKILL');
  const listed = await pilotBench('captures', '--json', '--data', join(folder, 'store'));
  const capture = JSON.parse(listed) as { status: string; lines: number };
  expect(capture.status).toBe('interrupted');
  expect(capture.lines).toBeGreaterThan(10);
});
