import { chromium, type CDPSession, type Page } from '@playwright/test';
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

/** Measures the page in Chromium with an hour recorded and the recording going on, at 50 readings a second of each meter. */
export async function measureScreen(heldHour: boolean, report: (text: string) => void): Promise<PlaceCost[]> {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-screen-'));
  const store = join(folder, 'store');
  const ports = { gauge: join(folder, 'gauge'), flame: join(folder, 'flame') };
  const meters: ChildProcess[] = [];
  const sending: NodeJS.Timeout[] = [];
  let workbench: ChildProcess | undefined;
  const browser = await chromium.launch({
    executablePath: process.env['PILOT_BENCH_CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--no-first-run', '--no-proxy-server', '--disable-background-networking'],
  });
  try {
    if (heldHour) {
      report('recording an hour');
      const args = [join(import.meta.dirname, 'hour-process.ts'), store, ports.gauge, ports.flame, String(rate)];
      const done = spawnSync(process.execPath, ['--disable-warning=ExperimentalWarning', ...args], { stdio: ['ignore', 'ignore', 'inherit'] });
      if (done.signal !== 'SIGKILL') throw new Error(`the hour was not recorded: ${done.status}`);
    }
    for (const [path, value, swing] of [
      [ports.gauge, 2.5, 0.004],
      [ports.flame, 5, 0.03],
    ] as const) {
      const socat = spawn('socat', ['-u', 'STDIN', `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'ignore', 'ignore'] });
      meters.push(socat);
      let n = 0;
      sending.push(setInterval(() => socat.stdin.write(`${(value + swing * Math.sin((n += 1) * 1.9)).toFixed(3)}\r\n`), 1000 / rate));
    }
    const serving = spawn(process.execPath, [join(root, 'build', 'pilot-bench.mjs'), 'serve', '--no-open', '--data', store], { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] });
    workbench = serving;
    const address = await new Promise<string>((resolve) => {
      serving.stdout.on('data', (bytes: Buffer) => {
        const found = /is at (\S+)/u.exec(bytes.toString());
        if (found) resolve(found[1]!);
      });
    });
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.goto(address);
    await begin(page, heldHour, ports);
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Performance.enable');
    const costs: PlaceCost[] = [];
    for (const [place, span] of places) {
      report(`${place} ${span ?? ''}`);
      await page.getByRole('navigation', { name: 'Steps of the visit' }).getByRole('button', { name: new RegExp(place) }).click();
      if (span) await page.getByRole('button', { name: span, exact: true }).click();
      await page.waitForTimeout(3000);
      costs.push({ place: span ? `${place}, ${span}` : place, ...(await measure(page, devtools)) });
    }
    return costs;
  } finally {
    for (const timer of sending) clearInterval(timer);
    for (const meter of meters) meter.kill('SIGKILL');
    workbench?.kill('SIGKILL');
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

const places = [
  ['Meters', undefined],
  ['Sweep', '1 min'],
  ['Sweep', '5 min'],
  ['Sweep', 'All'],
  ['Window', undefined],
  ['Light-off', undefined],
  ['Set', undefined],
] as const;

async function begin(page: Page, heldHour: boolean, ports: { gauge: string; flame: string }): Promise<void> {
  const click = (name: string | RegExp) => page.getByRole('button', { name, exact: true }).click();
  if (heldHour) {
    await click(/^Continue/);
  } else {
    for (const [port, profile] of [
      [ports.gauge, 'Manometer, one number a line'],
      [ports.flame, 'Multimeter, volts, one number a line'],
    ] as const) {
      await page.getByRole('navigation', { name: 'Steps of the visit' }).getByRole('button', { name: /Meters/ }).click();
      await page.getByRole('radio', { name: 'Other' }).check();
      await page.getByLabel('Port name').fill(port);
      await page.getByRole('combobox', { name: 'Profile' }).selectOption(profile);
      await click('Connect');
      await page.getByRole('region', { name: profile }).getByText('Live').waitFor();
    }
    await page.getByRole('navigation', { name: 'Steps of the visit' }).getByRole('button', { name: /Sweep/ }).click();
    await click('Start recording');
  }
  await page.waitForTimeout(3000);
}

async function measure(page: Page, devtools: CDPSession): Promise<Omit<PlaceCost, 'place'>> {
  const busySeconds = async () => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return metrics.find(({ name }) => name === 'TaskDuration')!.value;
  };
  const before = await busySeconds();
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
    busy: ((await busySeconds()) - before) / wallS,
  };
}
