import { ipcRenderer } from 'electron';
import { portOffer, portRequest } from '../../../shared/contract/endpoints.ts';

// Nothing of Electron reaches the page: it requests a port and gets one end of it; the other end goes to the host.
window.addEventListener('message', (event) => {
  if (event.source !== window || event.origin !== location.origin || event.data !== portRequest) return;
  const { port1, port2 } = new MessageChannel();
  ipcRenderer.postMessage(portOffer, undefined, [port2]);
  window.postMessage(portOffer, location.origin, [port1]);
});
