import { dialog, powerSaveBlocker, type BrowserWindow } from 'electron';

/** The display goes dark, or the computer to sleep, at most this long after a recording began, ms. */
const checkEveryMs = 1000;

/** Keeps the display on and the computer awake while something is recorded. */
export function stayAwake(isRecording: () => boolean): void {
  let blocker: number | undefined;
  setInterval(() => {
    if (isRecording() && blocker === undefined) blocker = powerSaveBlocker.start('prevent-display-sleep');
    if (isRecording() || blocker === undefined) return;
    powerSaveBlocker.stop(blocker);
    blocker = undefined;
  }, checkEveryMs).unref();
}

/** Asks before the window is closed in the middle of a recording. */
export function askBeforeClosing(window: BrowserWindow, isRecording: () => boolean): void {
  let isAsking = false;
  let mayClose = false;
  const ask = async () => {
    isAsking = true;
    mayClose = await asksToClose(window);
    isAsking = false;
    if (mayClose) window.close();
  };
  window.on('close', (event) => {
    if (mayClose || !isRecording()) return;
    event.preventDefault();
    if (!isAsking) void ask();
  });
}

// Not the kind of dialog that waits for its answer: nothing would be recorded meanwhile.
async function asksToClose(window: BrowserWindow): Promise<boolean> {
  const { response } = await dialog.showMessageBox(window, {
    type: 'warning',
    message: 'A recording is running.',
    detail:
      'Closing interrupts it. What is recorded stays and can be continued. ' +
      'Pilot Bench controls no valve: if gas is on, shut it by hand first.',
    buttons: ['Keep recording', 'Interrupt and close'],
    defaultId: 0,
    cancelId: 0,
  });
  return response === 1;
}
