import type { Session, WebContents, WebPreferences } from 'electron';
import { appOrigin } from '../../shared/contract/endpoints.ts';

/** The preferences of our desktop window. Stated in full although most are defaults: a default may change. */
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
  // Its dictionaries would be fetched over the network.
  spellcheck: false,
  // Readings are still drawn while the technician uses another program.
  backgroundThrottling: false,
});

/** Permissions that the page may have. Not serial: ports belong to the host. */
const permissions = new Set(['clipboard-sanitized-write']); // for copying the sentence of a fault

/** Grants the permissions in the list and refuses all others. */
export function answerPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, grant) => grant(permissions.has(permission)));
  session.setPermissionCheckHandler((_contents, permission) => permissions.has(permission));
  session.setDevicePermissionHandler(() => false);
}

/** Whether a URL is our own page. It is parsed, as comparing its beginning is not safe. */
export function isOwnPage(url: unknown): boolean {
  if (typeof url !== 'string' || !URL.canParse(url)) return false;
  const { protocol, host, username } = new URL(url);
  return `${protocol}//${host}` === appOrigin && username === '';
}

/** Whether a URL may be loaded: our own files, what the page made itself, and the developer tools. */
export const isLocal = (url: string): boolean =>
  isOwnPage(url) || (URL.canParse(url) && ['blob:', 'data:', 'devtools:'].includes(new URL(url).protocol));

/** Blocks every request to a network, whatever the page contains; and every download but of what the page made itself. */
export function blockNetwork(session: Session): void {
  session.webRequest.onBeforeRequest(({ url }, answer) => answer({ cancel: !isLocal(url) }));
  session.on('will-download', (event, item) => {
    const url = item.getURL();
    if (!(url.startsWith('blob:') && isOwnPage(url.slice('blob:'.length)))) event.preventDefault();
  });
}

/** Blocks navigation to any other address, second windows and webviews. */
export function blockNavigation(contents: WebContents): void {
  const preventLeaving = (event: { preventDefault(): void; url: string }) => {
    if (!isOwnPage(event.url)) event.preventDefault();
  };
  contents.on('will-navigate', preventLeaving);
  contents.on('will-redirect', preventLeaving);
  contents.on('will-frame-navigate', preventLeaving);
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}
