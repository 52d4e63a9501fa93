import type { Session, WebContents, WebPreferences } from 'electron';
import { appOrigin } from '../../shared/contract/endpoints.ts';

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
  navigateOnDragDrop: false,
  // Its word lists would be fetched over the network.
  spellcheck: false,
  // Readings go on being drawn while the technician looks at another program.
  backgroundThrottling: false,
});

/** Permissions a page may have. Serial is no: ports belong to the host. */
const permissions = new Set(['clipboard-sanitized-write']); // copying the sentence of a fault

/** Answers every permission from the list: what is not in it is refused. */
export function answerPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer) => answer(permissions.has(permission)));
  session.setPermissionCheckHandler((_contents, permission) => permissions.has(permission));
  session.setDevicePermissionHandler(() => false);
}

/** Whether an address is a page of ours. Parsed, never compared by its beginning. */
export function isOurs(url: unknown): boolean {
  if (typeof url !== 'string' || !URL.canParse(url)) return false;
  const { protocol, host, username } = new URL(url);
  return `${protocol}//${host}` === appOrigin && username === '';
}

/** What may be loaded at all: our own files and what the page made of its own. Developer tools have a scheme for themselves. */
export const isLocal = (url: string): boolean =>
  isOurs(url) || (URL.canParse(url) && ['blob:', 'data:', 'devtools:'].includes(new URL(url).protocol));

/** Nothing goes over a network, whatever the page holds; and only what the page made can be saved to a file. */
export function keepLocal(session: Session): void {
  session.webRequest.onBeforeRequest(({ url }, answer) => answer({ cancel: !isLocal(url) }));
  session.on('will-download', (event, item) => {
    const url = item.getURL();
    if (!(url.startsWith('blob:') && isOurs(url.slice('blob:'.length)))) event.preventDefault();
  });
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
