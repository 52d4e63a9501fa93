import { join } from 'node:path';
import { defineConfig } from '@playwright/test';
import { chromiumPath } from './build/chromium.mjs';

/** Read by `chromium.sh`. */
process.env.PILOT_BENCH_E2E_CHROMIUM = chromiumPath();

// Each file starts its own workbench with its own store on the loopback address.
export default defineConfig({
  testDir: 'tests/e2e',
  // A visit runs in real time, with sweep and purges; the rest takes longer on a busy machine.
  timeout: 600_000,
  expect: { timeout: 15_000 },
  // Three files at a time: most of a visit is waiting, and the whole must stay under twenty minutes on two cores.
  workers: 3,
  forbidOnly: true,
  outputDir: 'test-results/e2e',
  use: {
    viewport: { width: 1366, height: 768 },
    // A trace of every test takes from a third more to twice the computing time again; `--trace retain-on-failure` makes one.
    screenshot: 'only-on-failure',
    launchOptions: {
      executablePath: join(import.meta.dirname, 'tests', 'e2e', 'chromium.sh'),
      // Without a network the browser must not wait for one, and root cannot use its sandbox.
      args: [
        '--no-sandbox',
        // Software that plays a graphics card costs more than drawing without one.
        '--disable-gpu',
        '--disable-quic',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
        '--no-proxy-server',
      ],
    },
  },
});
