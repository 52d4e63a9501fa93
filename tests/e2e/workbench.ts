import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test as base, expect, type Locator, type Page } from '@playwright/test';

const root = join(import.meta.dirname, '..', '..');

/** The workbench as a person starts it, with a store of its own. */
export interface Workbench {
  folder: string;
  url: string;
  process: ChildProcess;
  end(signal?: NodeJS.Signals): Promise<void>;
}

/** @param port  0: any that is free */
export async function startWorkbench(folder: string, port = 0): Promise<Workbench> {
  const child = spawn(
    process.execPath,
    ['build/pilot-bench.mjs', 'serve', '--no-open', '--port', String(port), '--data', join(folder, 'store')],
    {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  const url = await new Promise<string>((resolve, reject) => {
    let output = '';
    child.stdout.on('data', (bytes: Buffer) => {
      output += bytes.toString();
      const found = /^Pilot Bench is at (\S+)$/m.exec(output);
      if (found) resolve(found[1]!);
    });
    child.on('exit', (code) => reject(new Error(`serve ended with ${code}: ${output}`)));
  });
  let isAsked = false;
  const ended = new Promise<void>((resolve) => {
    child.on('exit', (code, signal) => {
      if (!isAsked) process.stderr.write(`The workbench ended by itself: status ${code}, signal ${signal}.\n`);
      resolve();
    });
  });
  return {
    folder,
    url,
    process: child,
    async end(signal = 'SIGTERM') {
      isAsked = true;
      child.kill(signal);
      await ended;
    },
  };
}

/** Runs a command to its end and returns its standard output. Fails the test on an exit status other than 0. */
export async function pilotBench(...args: string[]): Promise<string> {
  const child = spawn(process.execPath, ['build/pilot-bench.mjs', ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (bytes: Buffer) => (out += bytes.toString()));
  child.stderr.on('data', (bytes: Buffer) => (err += bytes.toString()));
  const code = await new Promise((resolve) => {
    child.on('close', resolve);
  });
  expect(code, err).toBe(0);
  return out;
}

/** The analysis of a saved visit as the commands print it, as far as these tests use it. */
export interface Analysis {
  signalInterval: Record<'low' | 'high', { value: number }>;
  window: Record<'low' | 'high', { value: number }>;
  setPoint: { value: number };
  plateau: { value: number };
  asLeft?: { decision: string };
}

/** Analyzes a saved visit by command and compares it with what the page showed. */
export async function analyzedAsShown(file: string, shown: Record<'low' | 'high' | 'set', string>): Promise<Analysis> {
  const analysis = JSON.parse(await pilotBench('analyze', file, '--json')) as Analysis;
  expect({
    low: analysis.window.low.value.toFixed(2),
    high: analysis.window.high.value.toFixed(2),
    set: analysis.setPoint.value.toFixed(2),
  }).toEqual(shown);
  return analysis;
}

/** `page` shows a fresh workbench; any error that the browser reports fails the test. */
export const test = base.extend<{ folder: string; workbench: Workbench }>({
  // The runner wants a pattern here, empty or not.
  // oxlint-disable-next-line no-empty-pattern
  folder: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-e2e-'));
    await use(folder);
    rmSync(folder, { recursive: true, force: true });
  },
  workbench: async ({ folder }, use) => {
    const workbench = await startWorkbench(folder);
    await use(workbench);
    await workbench.end();
  },
  page: async ({ page, workbench }, use) => {
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error') errors.push(message.text());
    });
    await page.goto(workbench.url);
    await use(page);
    expect(errors).toEqual([]);
  },
});

export const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });

/** Types into fields: their names and what is typed there. */
export async function fillFields(page: Page, values: Record<string, number>): Promise<void> {
  for (const [name, value] of Object.entries(values)) {
    const field = page.getByLabel(name, { exact: true }).first();
    await field.fill(String(value));
    await field.blur();
  }
}

/** Sets the control of the practice burner: the names of its fields and what is typed there. */
export async function setControl(page: Page, settings: Record<string, number>): Promise<void> {
  const summary = page.getByText('Settings of the control');
  await summary.click();
  await fillFields(page, settings);
  await summary.click();
}

/** Saves a picture for the README when PILOT_BENCH_PICTURES names a folder. */
export async function picture(page: Page, name: string): Promise<void> {
  const folder = process.env['PILOT_BENCH_PICTURES'];
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`) });
}

/** Saves a picture to look at when PILOT_BENCH_LOOK names a folder. */
export async function look(page: Page, name: string): Promise<void> {
  const folder = process.env['PILOT_BENCH_LOOK'];
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`) });
}

/** Connects two meters by the names of their ports. */
export async function connectMeters(page: Page, ports: { gaugePort: string; flamePort: string }): Promise<void> {
  await goTo(page, 'Meters');
  for (const [port, profile] of [
    [ports.gaugePort, 'Manometer, one number a line'],
    [ports.flamePort, 'Multimeter, volts, one number a line'],
  ] as const) {
    await page.getByRole('radio', { name: 'Other' }).check();
    await page.getByLabel('Port name').fill(port);
    await page.getByRole('combobox', { name: 'Profile' }).selectOption(profile);
    await button(page, 'Connect').click();
    await expect(page.getByRole('region', { name: profile })).toContainText('Live');
  }
}

/** Goes to a step of the visit by the rail. */
export const goTo = (page: Page, place: string) =>
  page
    .getByRole('navigation', { name: 'Steps of the visit' })
    .getByRole('button', { name: new RegExp(place) })
    .click();

/** A large live reading. */
export async function live(page: Page, name: 'Pilot pressure' | 'Flame signal'): Promise<number> {
  const text = await page.getByRole('region', { name, exact: true }).textContent();
  return Number(/-?\d+\.\d+/.exec(text ?? '')?.[0] ?? Number.NaN);
}

/** Waits until a live number meets the condition. On a busy machine the page turns the practice regulator more slowly. */
export const untilLive = (page: Page, name: 'Pilot pressure' | 'Flame signal', holds: (value: number) => boolean) =>
  expect.poll(async () => holds(await live(page, name)), { timeout: 180_000, intervals: [100] }).toBe(true);

/** The number on a tile of the window place. */
export async function tile(page: Page, name: 'Low end' | 'High end' | 'Set point'): Promise<string> {
  const text = await page.locator('main').getByText(name, { exact: true }).locator('..').textContent();
  return /\d+\.\d+/.exec(text ?? '')![0];
}

/** The number beside a name in a list of results. */
export async function factOf(list: Locator, name: string): Promise<number> {
  const text = await list.getByText(name, { exact: true }).locator('..').getByRole('definition').textContent();
  return Number(/-?\d+(\.\d+)?/.exec(text ?? '')?.[0] ?? Number.NaN);
}

/**
 * Notes every title that the running trial shows from now on, however short: a word that stands for two seconds may be over before a busy
 * machine asks for it. Returns what was noted so far.
 */
export async function noteTrialTitles(page: Page): Promise<() => Promise<string[]>> {
  await page.evaluate(() => {
    const noted: string[] = [];
    new MutationObserver(() => {
      const title = document.querySelector('[aria-label="Running trial"] [role="alert"]')?.textContent ?? 'none';
      if (noted.at(-1) !== title) noted.push(title);
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
    Object.assign(window, { trialTitles: noted });
  });
  return () => page.evaluate(() => (window as unknown as { trialTitles: string[] }).trialTitles);
}

export { expect };
