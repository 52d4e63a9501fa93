import { test as base, type Page } from '@playwright/test';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { callDesktop, type Desktop, startOnStandIn } from './desktop/desktop.ts';
import { startInElectron } from './desktop/real-electron.ts';
import { button, expect, goTo, live, pilotBench, untilLive } from './workbench.ts';

// The built main, preload and page: in Electron's own binary where its path is given (`npm run test:electron`), otherwise on a stand-in for
// it, in a real browser. That Electron itself behaves so is not shown by the stand-in.
const binary = process.env['PILOT_BENCH_ELECTRON'];

type Started = { desktop: Desktop; page: Page };
const test = base.extend<{ folder: string; start: (...args: string[]) => Promise<Started> }>({
  // The runner wants a pattern here, empty or not.
  // oxlint-disable-next-line no-empty-pattern
  folder: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-desktop-'));
    await use(folder);
    rmSync(folder, { recursive: true, force: true });
  },
  start: async ({ page: ownPage, folder }, use) => {
    const errors: string[] = [];
    const programs: Desktop[] = [];
    await use(async (...more) => {
      const args = ['.', `--data=${folder}`, ...more];
      const started = binary
        ? await startInElectron(binary, args)
        : { desktop: await startOnStandIn(ownPage, args), page: ownPage };
      programs.push(started.desktop);
      started.page.on('pageerror', (error) => errors.push(error.message));
      return started;
    });
    for (const program of programs) program.kill();
    expect(errors).toEqual([]);
  },
});

// Seconds, when nothing hangs.
test.describe.configure({ timeout: 120_000 });

test('the desktop program records from the practice bench and asks before it closes', async ({ folder, start }) => {
  const { desktop, page } = await start();
  await button(page, 'Connect both practice meters').click();
  await button(page, 'Use this burner’s data').click();
  await goTo(page, 'Sweep');
  await button(page, 'Start recording').click();
  await expect(page.getByRole('banner')).toContainText('Recording');
  await untilLive(page, 'Flame signal', (signal) => signal > 4);
  expect(await live(page, 'Pilot pressure')).toBeGreaterThan(1);

  await desktop.clickOnClose();
  await expect.poll(() => desktop.boxes()).toEqual(['A recording is running.']);
  await expect(page.getByRole('banner')).toContainText('Recording');
  await desktop.answerNext('Interrupt and close');
  await desktop.clickOnClose();
  expect(await desktop.ended).toBe(0);
  expect(JSON.parse(await pilotBench('captures', '--json', '--data', folder))).toMatchObject({ status: 'interrupted' });
});

test('a file opened with the desktop program is imported, analyzed and reported', async ({ folder, start }) => {
  const file = join(folder, 'visit.zip');
  writeFileSync(file, writeZip(writeDataPackage(simulateVisit('clean', 1).capture)));
  const { desktop, page } = await start(file);
  await expect.poll(() => desktop.boxes()).toEqual(['One capture was added. It is under Earlier.']);
  await goTo(page, 'Earlier');
  await button(page, /^Open /).click();
  await goTo(page, 'Proof');
  const download = page.waitForEvent('download');
  await button(page, 'Save PDF').click();
  const path = await (await download).path();
  expect(readFileSync(path).subarray(0, 5).toString()).toBe('%PDF-');
  await desktop.clickOnClose();
  expect(await desktop.ended).toBe(0);
  expect(existsSync(join(folder, 'window.json'))).toBe(true);
});

test('the desktop program runs the commands too, without a window, as the headless one does', async ({ folder }) => {
  const call = (...args: string[]) => callDesktop(binary, args);
  const sample = join('sample-captures', 'clean.csv');
  const analyzed = await call('analyze', sample, '--json');
  expect(analyzed).toEqual({ status: 0, out: await pilotBench('analyze', sample, '--json'), err: '' });
  // Import and list work on the store, with a process for the job.
  expect(await call('import', sample, '--data', folder)).toMatchObject({ status: 0 });
  const listed = await call('captures', '--data', folder, '--json');
  expect(
    listed.out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line)),
  ).toMatchObject([{ status: 'complete' }]);
  expect(await call('report', sample, '--out', join(folder, 'proof.pdf'))).toMatchObject({ status: 0 });
  expect(readFileSync(join(folder, 'proof.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  expect(await call('analyze', join(folder, 'none.csv'))).toMatchObject({ status: 1, out: '' });
  expect(await call('analyze', '--nonsense')).toMatchObject({ status: 2, out: '' });
});
