// Loaded before a command: its disk is full from one SIGUSR2 to the next.
import { fillDisk, freeDisk } from './fill-disk.ts';

let full = false;
process.on('SIGUSR2', () => {
  full = !full;
  if (full) fillDisk();
  else freeDisk();
});
