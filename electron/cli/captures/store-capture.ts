import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Host } from '../../host/host.ts';
import { kindOf } from './files.ts';
import { readCaptureFile } from './read-capture.ts';
import type { Companions } from './read-capture.ts';
import { neverAborted } from './open-store.ts';

/** The capture with this id from the store. Fails with `capture-missing` or `capture-ambiguous`. */
export async function captureFromStore(host: Host, capture: string): Promise<Outcome<Capture>> {
  const exported = await host.handlers['files.export']({ capture, format: 'package' }, neverAborted);
  if (!exported.ok) return exported;
  const entries = readZip(exported.value.bytes, exported.value.name);
  if (!entries.ok) return entries;
  const read = readDataPackage({ file: exported.value.name, entries: entries.value });
  return read.ok ? ok(read.value.capture) : read;
}

/** FILE-or-CAPTURE: an existing file or folder, else a capture of the store. Fails with the faults of either, or `file-or-capture-missing`. */
export async function fileOrCapture(
  what: string,
  companions: Companions,
  host: () => Promise<Outcome<Host>>,
): Promise<Outcome<Capture>> {
  const kind = await kindOf(what);
  if (kind.ok) return readCaptureFile(what, companions);
  // A path or a file name cannot be a capture: then the file is what is missing.
  if (/[\\/]|\.(?:csv|zip)$/iu.test(what)) return kind;
  const store = await host();
  if (!store.ok && store.fault.code === 'store-missing')
    return fail({ ...store.fault, message: `There is no file ${what}. ${store.fault.message}` });
  if (!store.ok) return store;
  const capture = await captureFromStore(store.value, what);
  return capture.ok || capture.fault.code !== 'capture-missing'
    ? capture
    : fail(fault('file-or-capture-missing', { what }));
}
