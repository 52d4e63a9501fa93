// Where page and host find each other; both sides must say the same.

/** Origin of the page in the desktop program. The browser host has the loopback address it listens on. */
export const appOrigin = 'app://workbench';

/** Path of the WebSocket in the browser host. */
export const socketPath = '/socket';

/** What the page says to the preload when it wants a port to the host; one port for each time it says so. */
export const portWanted = 'pilot-bench:port-wanted';

/** What goes with a port: from the preload to the page with one end, and to the main process with the other. */
export const portOffer = 'pilot-bench:port';
