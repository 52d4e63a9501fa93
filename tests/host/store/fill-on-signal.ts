// Loaded before a command: its disk is full from one SIGUSR2 to the next.
import { fillDisk, makeRoom } from './fill-disk.ts';

let full = false;
process.on('SIGUSR2', () => {
  full = !full;
  if (full) fillDisk();
  else makeRoom();
});
