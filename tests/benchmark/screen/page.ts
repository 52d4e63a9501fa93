import { chromium, type CDPSession, type Page } from '@playwright/test';
import { chromiumPath } from '../../../build/chromium.mjs';
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..', '..', '..');
const rate = 50;
const measureS = 8;

/** What one place of the page costs while two meters send. */
export interface PlaceCost {
  place: string;
  /** Time between two frames that 95 % of them keep, milliseconds; frames a second. */
  frameMs: number;
  perSecond: number;
  /** Share of the time in which the page's main thread was busy. */
  busy: number;
}

export interface ScreenCost {
  places: PlaceCost[];
  /** Share of the time in which the main thread was busy before anything was connected or recorded, in the busiest place; 0 where not measured. */
  idle: number;
  /** From the line of a meter to its number in the page, milliseconds: what 95 % keep. */
  lineToScreenMs: number;
}

/** Measures the page in Chromium with an hour recorded and the recording going on, at 50 readings a second of each meter. */
export async function measureScreen(heldHour: boolean, report: (text: string) => void): Promise<ScreenCost> {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-screen-'));
  const store = join(folder, 'store');
  const ports = { gauge: join(folder, 'gauge'), flame: join(folder, 'flame') };
  const meters: ChildProcess[] = [];
  const sending: NodeJS.Timeout[] = [];
  const gauge = { value: 2.5, swing: 0.004 };
  const flame = { value: 5, swing: 0.03 };
  let workbench: ChildProcess | undefined;
  const browser = await chromium.launch({
    executablePath: chromiumPath(),
    args: ['--no-sandbox', '--no-first-run', '--no-proxy-server', '--disable-background-networking'],
  });
  try {
    if (heldHour) {
      report('recording an hour');
      const args = [join(import.meta.dirname, 'hour-process.ts'), store, ports.gauge, ports.flame, String(rate)];
      const done = spawnSync(process.execPath, ['--disable-warning=ExperimentalWarning', ...args], {
        stdio: ['ignore', 'ignore', 'inherit'],
      });
      if (done.signal !== 'SIGKILL') throw new Error(`the hour was not recorded: ${done.status}`);
    }
    for (const [path, meter] of [
      [ports.gauge, gauge],
      [ports.flame, flame],
    ] as const) {
      const socat = spawn('socat', ['-u', 'STDIN', `pty,raw,echo=0,link=${path}`], {
        stdio: ['pipe', 'ignore', 'ignore'],
      });
      meters.push(socat);
      let n = 0;
      const send = () => {
        n += 1;
        socat.stdin.write(`${(meter.value + meter.swing * Math.sin(n * 1.9)).toFixed(3)}\r\n`);
      };
      sending.push(setInterval(send, 1000 / rate));
    }
    const serving = spawn(
      process.execPath,
      [join(root, 'build', 'pilot-bench.mjs'), 'serve', '--no-open', '--data', store],
      { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] },
    );
    workbench = serving;
    const address = await new Promise<string>((resolve) => {
      serving.stdout.on('data', (bytes: Buffer) => {
        const found = /is at (\S+)/u.exec(bytes.toString());
        if (found) resolve(found[1]!);
      });
    });
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.goto(address);
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Performance.enable');
    // With an hour to be continued the page asks about it first.
    const idles = [0];
    for (const place of heldHour ? [] : idlePlaces) {
      report(`${place}, idle`);
      await goTo(page, place);
      await page.waitForTimeout(3000);
      idles.push(await busyShare(page, devtools));
    }
    await begin(page, heldHour, ports);
    const costs: PlaceCost[] = [];
    for (const [place, span] of places) {
      report(`${place} ${span ?? ''}`);
      await goTo(page, place);
      if (span) await page.getByRole('button', { name: span, exact: true }).click();
      await page.waitForTimeout(3000);
      costs.push({ place: span ? `${place}, ${span}` : place, ...(await measure(page, devtools)) });
    }
    report('from line to screen');
    return {
      places: costs,
      idle: Math.max(...idles),
      lineToScreenMs: await lineToScreen(page, (value) => (gauge.value = value)),
    };
  } finally {
    for (const timer of sending) clearInterval(timer);
    for (const meter of meters) meter.kill('SIGKILL');
    workbench?.kill('SIGKILL');
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Places of the page, and with which time in view. */
const places = [
  ['Meters', undefined],
  ['Sweep', '1 min'],
  ['Sweep', '5 min'],
  ['Sweep', 'All'],
  ['Window', undefined],
  ['Light-off', undefined],
  ['Set', undefined],
] as const;

/** Where a technician leaves the page before the visit begins. */
const idlePlaces = ['Meters', 'Sweep'];

const goTo = (page: Page, place: string) =>
  page
    .getByRole('navigation', { name: 'Steps of the visit' })
    .getByRole('button', { name: new RegExp(place) })
    .click();

async function begin(page: Page, heldHour: boolean, ports: { gauge: string; flame: string }): Promise<void> {
  const click = (name: string | RegExp) => page.getByRole('button', { name, exact: true }).click();
  if (heldHour) {
    await click(/^Continue/);
  } else {
    for (const [port, profile] of [
      [ports.gauge, 'Manometer, one number a line'],
      [ports.flame, 'Multimeter, volts, one number a line'],
    ] as const) {
      await goTo(page, 'Meters');
      await page.getByRole('radio', { name: 'Other' }).check();
      await page.getByLabel('Port name').fill(port);
      await page.getByRole('combobox', { name: 'Profile' }).selectOption(profile);
      await click('Connect');
      await page.getByRole('region', { name: profile }).getByText('Live', { exact: true }).waitFor();
    }
    await goTo(page, 'Sweep');
    await click('Start recording');
  }
  await page.waitForTimeout(3000);
}

/** Seconds for which the page's main thread has been busy. */
async function busySeconds(devtools: CDPSession): Promise<number> {
  const { metrics } = await devtools.send('Performance.getMetrics');
  return metrics.find(({ name }) => name === 'TaskDuration')!.value;
}

/** Without asking for frames, which would keep an idle page busy. */
async function busyShare(page: Page, devtools: CDPSession): Promise<number> {
  const before = await busySeconds(devtools);
  const startedMs = performance.now();
  await page.waitForTimeout(measureS * 1000);
  return (1000 * ((await busySeconds(devtools)) - before)) / (performance.now() - startedMs);
}

async function measure(page: Page, devtools: CDPSession): Promise<Omit<PlaceCost, 'place'>> {
  const before = await busySeconds(devtools);
  const startedMs = performance.now();
  const frames = await page.evaluate(
    (forMs) =>
      new Promise<number[]>((resolve) => {
        const gaps: number[] = [];
        let last = performance.now();
        const end = last + forMs;
        requestAnimationFrame(function next() {
          const now = performance.now();
          gaps.push(now - last);
          last = now;
          if (now < end) requestAnimationFrame(next);
          else resolve(gaps);
        });
      }),
    measureS * 1000,
  );
  const wallS = (performance.now() - startedMs) / 1000;
  const sorted = frames.toSorted((a, b) => a - b);
  return {
    frameMs: sorted[Math.floor(sorted.length * 0.95)]!,
    perSecond: frames.length / measureS,
    busy: ((await busySeconds(devtools)) - before) / wallS,
  };
}

const steps = 40;

/** Lets the manometer step up and down, and notes when the page shows it. Both clocks are this computer's. */
async function lineToScreen(page: Page, set: (value: number) => void): Promise<number> {
  await goTo(page, 'Sweep');
  const delays: number[] = [];
  for (let step = 0; step < steps; step += 1) {
    const value = step % 2 === 0 ? 3.5 : 2.5;
    const shown = page.evaluate(
      (near) =>
        new Promise<number>((resolve) => {
          const region = document.querySelector('[aria-label="Pilot pressure"]')!;
          const look = () => {
            const number = Number(/-?\d+\.\d+/u.exec(region.textContent ?? '')?.[0]);
            if (Math.abs(number - near) > 0.1) return;
            observer.disconnect();
            // When the frame with it is drawn.
            requestAnimationFrame(() => resolve(Date.now()));
          };
          const observer = new MutationObserver(look);
          observer.observe(region, { childList: true, characterData: true, subtree: true });
        }),
      value,
    );
    await page.waitForTimeout(300 + 37 * (step % 7));
    const sentMs = Date.now();
    set(value);
    delays.push((await shown) - sentMs);
  }
  return delays.toSorted((a, b) => a - b)[Math.floor(steps * 0.95)]!;
}
