// Which Chromium shows the page in tests and benchmarks.
import { existsSync } from 'node:fs';

/** Debian's names. The one without windows comes first: it computes a quarter less for the same page, and tests need no window. */
export const chromiumPrograms = ['chromium-headless-shell', 'chromium'];

/** Its file: the one that PILOT_BENCH_CHROMIUM names, else the first that is installed. */
export const chromiumPath = () =>
  process.env.PILOT_BENCH_CHROMIUM ??
  chromiumPrograms.map((name) => `/usr/bin/${name}`).find((file) => existsSync(file)) ??
  '/usr/bin/chromium';
