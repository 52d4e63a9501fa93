import type { BrowserWindow, Rectangle } from 'electron';
import { readFileSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { privateFileMode } from '../host/files/private-folder.ts';

const wholeNumber = z.number().int().min(-100_000).max(100_000);
const WindowState = z.object({
  x: wholeNumber,
  y: wholeNumber,
  width: wholeNumber.min(1),
  height: wholeNumber.min(1),
  maximized: z.boolean(),
});
/** Where the desktop window was, in the points of the screen. */
export type WindowState = z.infer<typeof WindowState>;

// So much of the window's top must be on a display that it can be taken hold of, points.
const gripWidth = 200;
const gripHeight = 40;

/** The state that was kept in `file`, when it still is on one of the displays; a display may be gone, and the file may be damaged. */
export function keptState(file: string, workAreas: readonly Rectangle[]): WindowState | undefined {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    return undefined;
  }
  const state = WindowState.safeParse(parsed(text)).data;
  return state && workAreas.some((area) => canBeGripped(state, area)) ? state : undefined;
}

/** Keeps the state of the window in `file` when it closes. */
export function keepState(window: BrowserWindow, file: string): void {
  window.on('close', () => {
    // Of a maximized window, where it goes back to.
    const state: WindowState = { ...window.getNormalBounds(), maximized: window.isMaximized() };
    try {
      writeFileSync(file, JSON.stringify(state), { mode: privateFileMode });
    } catch {
      // The disk may be full; the window opens in its usual place then.
    }
  });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function canBeGripped(state: WindowState, area: Rectangle): boolean {
  const width = Math.min(state.x + state.width, area.x + area.width) - Math.max(state.x, area.x);
  return width >= gripWidth && state.y >= area.y && state.y + gripHeight <= area.y + area.height;
}
