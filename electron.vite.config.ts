import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Notes which packages a bundle takes up, for build/licenses.mjs. */
const bundledPackages = (bundle: string) => ({
  name: 'bundled-packages',
  generateBundle(this: { getModuleIds(): Iterable<string> }) {
    const packages = Array.from(
      this.getModuleIds(),
      (id) => /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)/u.exec(id.replaceAll('\\', '/'))?.[1],
    );
    mkdirSync(at('out/bundled-packages'), { recursive: true });
    const names = [...new Set(packages.filter((name) => name !== undefined))].sort();
    writeFileSync(at(`out/bundled-packages/${bundle}.json`), JSON.stringify(names));
  },
});

export default defineConfig({
  main: {
    plugins: [bundledPackages('main')],
    build: {
      outDir: at('out/main'),
      rolldownOptions: {
        // Flat names: the host finds the module of its job processes in the same folder, both as source and as bundle.
        input: {
          main: at('electron/shell/main.ts'),
          cli: at('electron/cli/main.ts'),
          'job-process': at('electron/host/jobs/job-process.ts'),
        },
        output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' },
      },
    },
  },
  preload: {
    plugins: [bundledPackages('preload')],
    build: {
      outDir: at('out/preload'),
      externalizeDeps: false, // a sandboxed preload may only require('electron')
      rolldownOptions: {
        input: { preload: at('electron/shell/preload/preload.ts') },
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('renderer'),
    base: './',
    plugins: [react(), bundledPackages('renderer')],
    build: {
      outDir: at('out/renderer'),
      minify: true,
      chunkSizeWarningLimit: 2000, // loaded once, from this machine
      rolldownOptions: { input: { index: at('renderer/index.html') } },
    },
  },
});
