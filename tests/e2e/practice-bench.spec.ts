import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  analyzedAsShown,
  button,
  expect,
  goTo,
  live,
  picture,
  pilotBench,
  test,
  tile,
  untilLive,
} from './workbench.ts';

test('a whole visit on the practice bench, from meters to proof, and again next year', async ({ bench, folder }) => {
  await test.step('burner and meters', async () => {
    await button(bench, 'Connect both practice meters').click();
    await button(bench, 'Fill in its papers').click();
    const purge = bench.getByLabel('Purge before each trial');
    await purge.fill('5');
    await purge.blur();
    await goTo(bench, 'Meters');
    await expect(bench.getByRole('region', { name: /^Manometer/ })).toContainText('Live');
    await expect(bench.getByRole('region', { name: /^Multimeter/ })).toContainText('Live');
  });

  await test.step('the live place fits 1366 x 768 without scrolling', async () => {
    await goTo(bench, 'Sweep');
    const overflow = await bench.evaluate(() => {
      const main = document.querySelector('main')!;
      return [document.documentElement, main].map((element) => element.scrollHeight - element.clientHeight);
    });
    expect(Math.max(...overflow)).toBeLessThanOrEqual(0);
  });

  await test.step('as found, then a sweep down and up', async () => {
    await button(bench, 'Start recording').click();
    await expect(bench.getByRole('banner')).toContainText('Recording');
    await untilLive(bench, 'Flame signal', (signal) => signal > 4);
    await bench.waitForTimeout(3000);
    await button(bench, 'As found').click();
    await button(bench, 'Begin sweep').click();
    await button(bench, 'Turn out slowly').click();
    await untilLive(bench, 'Flame signal', (signal) => signal < 1.3);
    await button(bench, 'Turn in slowly').click();
    await untilLive(bench, 'Flame signal', (signal) => signal > 4.4);
    await bench.getByRole('textbox', { name: 'Note for the mark' }).fill('plateau seen');
    await button(bench, 'Mark').click();
    await expect.poll(() => live(bench, 'Pilot pressure'), { timeout: 60_000 }).toBeGreaterThan(3);
    await untilLive(bench, 'Flame signal', (signal) => signal < 1.5);
    await button(bench, 'Turn out slowly').click();
    await untilLive(bench, 'Pilot pressure', (pressure) => pressure < 2.8);
    await button(bench, 'Turn out slowly').click();
    await button(bench, 'End sweep').click();
    await picture(bench, 'sweep');
  });

  await test.step('a reload of the page loses nothing', async () => {
    const counts = () => pilotBench('captures', '--json', '--data', join(folder, 'store'));
    const before = JSON.parse(await counts()) as { readings: number };
    await bench.reload();
    await expect(bench.getByRole('banner')).toContainText('Recording');
    const after = JSON.parse(await counts()) as { readings: number };
    expect(after.readings).toBeGreaterThan(before.readings);
  });

  await test.step('light-off trials, plain and with the spark held back', async () => {
    await goTo(bench, 'Light-off');
    for (const delay of [0, 3]) {
      await button(bench, 'Pilot valve open').click();
      await bench.waitForTimeout(1500);
      await button(bench, delay ? 'Spark held back' : 'Spark at once').click();
      if (delay) await bench.getByLabel('Held back for').fill(String(delay));
      // Blocked until the purge is over; the button says so.
      await button(bench, 'Begin trial').click({ timeout: 20_000 });
      if (delay) {
        await expect(bench.getByRole('dialog')).toContainText('maker’s manual');
        await button(bench, 'Checked. Begin trial').click();
      }
      await button(bench, 'Pilot valve shut').click();
      if (delay) await expect(bench.getByText('Spark now').first()).toBeVisible();
      await button(bench, 'Spark off').click();
      await bench.waitForTimeout(3500);
      await button(bench, 'Spark on').click();
      await button(bench, 'Lit').click();
      await expect(bench.getByText('Purge', { exact: true }).first()).toBeVisible();
    }
  });

  const shown = await test.step('the window says why and how sure', async () => {
    await goTo(bench, 'Window');
    await expect(bench.getByText('Set point', { exact: true })).toBeVisible({ timeout: 30_000 });
    await bench.getByText('Why here? How sure?').first().click();
    await expect(bench.getByRole('heading', { name: 'Why is the low end here?' })).toBeVisible();
    await expect(bench.getByText(/With 95 % confidence/)).toBeVisible();
    await picture(bench, 'window');
    return {
      low: await tile(bench, 'Low end'),
      high: await tile(bench, 'High end'),
      set: await tile(bench, 'Set point'),
    };
  });

  await test.step('set, with the aim, and as left', async () => {
    await goTo(bench, 'Set');
    const aim = bench.locator('.aim-turn').first();
    await expect(aim).toHaveText(/^(Turn|There)/);
    await picture(bench, 'set');
    for (let turn = 0; turn < 60; turn += 1) {
      const says = await aim.textContent();
      if (says?.startsWith('There')) break;
      await button(bench, says?.startsWith('Turn in') ? 'Turn in a little' : 'Turn out a little').click();
      await bench.waitForTimeout(600);
    }
    await expect(aim).toHaveText(/^There/);
    await bench.waitForTimeout(5000);
    await button(bench, 'Record as-left').click();
    await expect(bench.getByText('Pass', { exact: true }).first()).toBeVisible({ timeout: 20_000 });
  });

  await test.step('proof', async () => {
    await goTo(bench, 'Proof');
    await button(bench, 'Finish visit').click();
    await button(bench, 'Finish').click();
    await expect(bench.getByText('Complete. It is not changed any more.')).toBeVisible();
    const [download] = await Promise.all([bench.waitForEvent('download'), button(bench, 'Save data package').click()]);
    await download.saveAs(join(folder, 'visit.zip'));
    const json = await analyzedAsShown(join(folder, 'visit.zip'), shown);
    expect(json.asLeft?.decision).toBe('pass');
  });

  await test.step('next year: an earlier sweep under the one at hand', async () => {
    await goTo(bench, 'Earlier');
    const sample = (name: string) => join(import.meta.dirname, '..', '..', 'sample-captures', name);
    await bench
      .getByLabel('Files to bring in')
      .setInputFiles(['next-year.csv', 'next-year.setup.json', 'next-year.trials.csv'].map(sample));
    await expect(bench.getByRole('button', { name: /^Lay under the capture at hand/ }).first()).toBeVisible();
    await bench
      .getByRole('button', { name: /^Lay under the capture at hand/ })
      .first()
      .click();
    await expect(
      bench.getByRole('listitem').filter({ hasText: /^The flame signal on the plateau has risen by 0\.\d\d V\.$/ }),
    ).toBeVisible({
      timeout: 30_000,
    });
    await picture(bench, 'compare');
    await expect(bench.getByRole('listitem').filter({ hasText: /^The old setting of 2\.\d\d inH2O/ })).toBeVisible();
  });

  await test.step('close and open again: everything is there', async () => {
    const listed = await pilotBench('captures', '--json', '--data', join(folder, 'store'));
    const captures = listed
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { status: string; lines: number });
    expect(captures.filter((capture) => capture.status === 'complete')).toHaveLength(2);
    expect(readFileSync(join(folder, 'visit.zip')).length).toBeGreaterThan(10_000);
  });
});
