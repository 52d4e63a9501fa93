import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  main: {
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
    plugins: [react()],
    build: {
      outDir: at('out/renderer'),
      minify: true,
      chunkSizeWarningLimit: 2000, // loaded once, from this machine
      rolldownOptions: { input: { index: at('renderer/index.html') } },
    },
  },
});
