import { _electron, type Page } from '@playwright/test';
import type { Desktop } from './desktop.ts';
import { root } from './desktop.ts';

interface Told {
  boxes: string[];
  answers: string[];
}

/** Starts the built program in Electron's own binary, in a checkout: a packed one refuses to be driven. Its dialogs are answered by the test. */
export async function startInElectron(binary: string, args: string[]): Promise<{ desktop: Desktop; page: Page }> {
  const program = await _electron.launch({ executablePath: binary, args: [root, ...args.slice(1)], cwd: root });
  await program.evaluate(({ dialog }) => {
    const told: Told = { boxes: [], answers: [] };
    Object.assign(globalThis, { told });
    dialog.showMessageBox = async (...given: unknown[]) => {
      const { message, buttons = [] } = given.at(-1) as { message: string; buttons?: string[] };
      told.boxes.push(message);
      return { response: Math.max(0, buttons.indexOf(told.answers.shift() ?? '')), checkboxChecked: false };
    };
  });
  const page = await program.firstWindow();
  const child = program.process();
  const desktop: Desktop = {
    boxes: () => program.evaluate(() => (globalThis as unknown as { told: Told }).told.boxes),
    async answerNext(button) {
      await program.evaluate((_electron, text) => {
        (globalThis as unknown as { told: Told }).told.answers.push(text);
      }, button);
    },
    async clickOnClose() {
      await program.evaluate(({ BrowserWindow }) => {
        BrowserWindow.getAllWindows()[0]?.close();
      });
    },
    ended: new Promise((resolve) => {
      child.on('exit', resolve);
    }),
    kill: () => void child.kill('SIGKILL'),
  };
  return { desktop, page };
}
