// Renders build/icons/icon.svg in every size that the systems need. Run it after changing the drawing: node build/make-icons.mjs
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { chromiumPath } from './chromium.mjs';

const sizes = [16, 24, 32, 48, 64, 128, 256, 512, 1024];
const folder = new URL('icons/', import.meta.url);
const drawing = readFileSync(new URL('icon.svg', folder), 'utf8');

const browser = await chromium.launch({
  executablePath: chromiumPath(),
  args: ['--no-sandbox', '--no-proxy-server'],
});
for (const size of sizes) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${drawing}`);
  await page.screenshot({ path: fileURLToPath(new URL(`${size}x${size}.png`, folder)), omitBackground: true });
  await page.close();
}
await browser.close();
