// Loaded before a command: the disk of its store is full from one SIGUSR2 to the next, and with it that of the folders in
// PILOT_BENCH_TEST_FULL (separated as in PATH).
import { delimiter } from 'node:path';
import { fillDisk, freeDisk } from './fill-disk.ts';
import { fillFolders, freeFolders } from './refuse-files.ts';

const folders = (process.env['PILOT_BENCH_TEST_FULL'] ?? '').split(delimiter).filter((folder) => folder !== '');
let full = false;
process.on('SIGUSR2', () => {
  full = !full;
  if (full) {
    fillDisk();
    fillFolders(folders);
  } else {
    freeDisk();
    freeFolders();
  }
});
