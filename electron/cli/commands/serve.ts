import type { Command } from 'commander';
import { dataFolder } from '../../host/files/data-folder.ts';
import { keepAddressFile } from '../../web/address-file.ts';
import { openBrowser } from '../../web/open-browser.ts';
import { serveWorkbench } from '../../web/serve.ts';
import { wholeNumber } from '../option-values.ts';
import type { Status } from '../output.ts';
import { print, printMessage, printFault } from '../output.ts';
import { rendererFolder } from '../program-files.ts';
import { onBug, openHost, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { stopRequest } from '../recording/stop-request.ts';

interface Options extends StoreOptions {
  port: number;
  open: boolean;
}

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      'Opens the workbench in a browser on this computer. Its address contains an access key for one browser: without it, or from another computer, nothing can be reached.',
    )
    .option('--port <n>', 'port to listen on; 0 chooses a free one', wholeNumber('--port', 0, 65_535), 0)
    .option('--no-open', 'only print the address');

export async function run(options: Options): Promise<Status> {
  const stop = stopRequest();
  const host = await openHost(options, 'browser', { practice: true });
  if (!host.ok) {
    printFault(host.fault);
    return 1;
  }
  const workbench = await serveWorkbench({ host: host.value, port: options.port, rendererFolder, onBug });
  if (!workbench.ok) {
    await host.value.close();
    printFault(workbench.fault);
    return 1;
  }
  print(`Pilot Bench is at ${workbench.value.newAddress()}`);
  const addressFile = await keepAddressFile(dataFolder(options.data), workbench.value);
  if (addressFile.ok) {
    printMessage(`That address opens one browser. ${addressFile.value.file} opens another one.`);
    if (options.open && hasDisplay()) openBrowser(addressFile.value.file, sayNoBrowser);
  } else printFault(addressFile.fault);
  printMessage('Press Ctrl-C to stop.');
  await stop.requested;
  if (addressFile.ok) await addressFile.value.remove();
  await workbench.value.close();
  const closeFault = await host.value.close();
  if (closeFault) printFault(closeFault);
  return closeFault ? 1 : 0;
}

const hasDisplay = (): boolean =>
  process.platform !== 'linux' || Boolean(process.env['DISPLAY'] ?? process.env['WAYLAND_DISPLAY']);

const sayNoBrowser = (): void => printMessage('No browser could be opened. Open the address above in a browser.');
