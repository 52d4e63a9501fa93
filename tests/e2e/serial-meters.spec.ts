import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { openKnownBurner, truth } from './known-burner.ts';
import { analyzedAsShown, button, expect, goTo, pilotBench, test, tile, untilLive } from './workbench.ts';

test('two serial meters on a burner whose ends are known: screen, JSON and PDF agree with each other and the truth', async ({
  bench,
  folder,
}) => {
  const burner = await openKnownBurner(folder);
  try {
    await goTo(bench, 'Meters');
    for (const [port, profile] of [
      [burner.gaugePort, 'Manometer, one number a line'],
      [burner.flamePort, 'Multimeter, volts, one number a line'],
    ] as const) {
      await bench.getByRole('radio', { name: 'Other' }).check();
      await bench.getByLabel('Path of the port').fill(port);
      await bench.getByRole('combobox', { name: 'Profile' }).selectOption(profile);
      await button(bench, 'Connect').click();
      await expect(bench.getByRole('region', { name: profile })).toContainText('Live');
    }
    await goTo(bench, 'Sweep');
    await button(bench, 'Start recording').click();
    await untilLive(bench, 'Flame signal', (signal) => signal > 4.5);
    await button(bench, 'Begin sweep').click();
    await burner.turnTo(0.9, 0.12);
    await bench.waitForTimeout(2000);
    await burner.turnTo(4.3, 0.12);
    await bench.waitForTimeout(2000);
    await burner.turnTo(2.5, 0.12);
    await button(bench, 'End sweep').click();

    await goTo(bench, 'Window');
    await expect(bench.getByText('Set point', { exact: true })).toBeVisible({ timeout: 30_000 });
    const shown = {
      low: await tile(bench, 'Low end'),
      high: await tile(bench, 'High end'),
      set: await tile(bench, 'Set point'),
    };

    await goTo(bench, 'Proof');
    await button(bench, 'Finish visit').click();
    await button(bench, 'Finish').click();
    await expect(bench.getByText('Complete. It is not changed any more.')).toBeVisible();
    const save = async (name: string, file: string) => {
      const [download] = await Promise.all([bench.waitForEvent('download'), button(bench, name).click()]);
      await download.saveAs(join(folder, file));
    };
    await save('Save PDF', 'proof.pdf');
    await save('Save data package', 'visit.zip');

    const json = await analyzedAsShown(join(folder, 'visit.zip'), shown);
    const pdf = execFileSync('pdftotext', ['-layout', join(folder, 'proof.pdf'), '-']).toString();
    for (const number of [shown.low, shown.high, shown.set]) expect(pdf).toContain(`${number} inH2O`);

    // 0.02 inH2O: the meter's last digit, its noise, and half the 5 Hz signal's sampling at 0.12 inH2O a second.
    expect(Math.abs(json.signalInterval.low.value - truth.low)).toBeLessThan(0.02);
    expect(Math.abs(json.signalInterval.high.value - truth.high)).toBeLessThan(0.02);
    expect(Math.abs(json.plateau.value - truth.plateau)).toBeLessThan(0.01);
  } finally {
    burner.close();
  }
});

test('what goes wrong is said in one sentence, and what was recorded stays', async ({ bench, folder, workbench }) => {
  const burner = await openKnownBurner(folder);
  await goTo(bench, 'Meters');
  const connect = async (port: string) => {
    await bench.getByRole('radio', { name: 'Other' }).check();
    await bench.getByLabel('Path of the port').fill(port);
    await button(bench, 'Connect').click();
  };
  await connect(join(folder, 'nothing-here'));
  await expect(
    bench.getByText(`There is no port ${join(folder, 'nothing-here')}.`, { exact: false }).first(),
  ).toBeVisible();
  await button(bench, 'Disconnect').click();

  await connect(burner.gaugePort);
  await expect(bench.getByRole('region', { name: /^Manometer/ })).toContainText('Live');
  await goTo(bench, 'Sweep');
  await button(bench, 'Start recording').click();
  await bench.waitForTimeout(2000);
  burner.close();
  await expect(bench.getByText(/No reading|was disconnected/).first()).toBeVisible();

  await goTo(bench, 'Earlier');
  await bench
    .getByLabel('Files to bring in')
    .setInputFiles([{ name: 'wrong.csv', mimeType: 'text/csv', buffer: Buffer.from('time,a\n1,2\n') }]);
  await expect(bench.getByText('wrong.csv: the first column must be elapsed_s, but it is "time".')).toBeVisible();

  await bench.close();
  await workbench.end('SIGKILL');
  const listed = await pilotBench('captures', '--json', '--data', join(folder, 'store'));
  const capture = JSON.parse(listed) as { status: string; lines: number };
  expect(capture.status).toBe('interrupted');
  expect(capture.lines).toBeGreaterThan(10);
});
