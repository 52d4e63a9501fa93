// The names by which page and host find each other.

/** Origin of the page in the desktop program. The browser host has the loopback address it listens on. */
export const appOrigin = 'app://workbench';

/** Path of the WebSocket in the browser host. */
export const socketPath = '/socket';

/** The message by which the page requests a port to the host from the preload; each one gives a new port. */
export const portRequest = 'pilot-bench:port-wanted';

/** The message that carries a port: from the preload to the page with one end, and to the main process with the other. */
export const portOffer = 'pilot-bench:port';
