import type { Session, WebContents, WebPreferences } from 'electron';
import { appOrigin } from '../../shared/contract/meeting-point.ts';

/** What a window of ours may do. Stated in full although most are defaults: a default may change. */
export const safePreferences = (preload: string): WebPreferences => ({
  preload,
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
});

/** Permissions a page may have. Serial is no: ports belong to the host. */
const permissions: Record<string, boolean> = {
  'clipboard-sanitized-write': true, // copying a sentence of a fault
};

/** Answers every permission from the table, and with no where the table is silent. */
export function answerPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer) => answer(permissions[permission] ?? false));
  session.setPermissionCheckHandler((_contents, permission) => permissions[permission] ?? false);
  session.setDevicePermissionHandler(() => false);
}

/** Whether an address is a page of ours. Parsed, never compared by its beginning. */
export function isOurs(url: unknown): boolean {
  if (typeof url !== 'string' || !URL.canParse(url)) return false;
  const { protocol, host } = new URL(url);
  return `${protocol}//${host}` === appOrigin;
}

/** Keeps a page where it is: no other address, no second window, no webview. */
export function confine(contents: WebContents): void {
  const stay = (event: { preventDefault(): void; url: string }) => {
    if (!isOurs(event.url)) event.preventDefault();
  };
  contents.on('will-navigate', stay);
  contents.on('will-redirect', stay);
  contents.on('will-frame-navigate', stay);
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}
