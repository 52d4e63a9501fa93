import { protocol } from 'electron';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { pageHeaders, type PageFiles } from '../host/files/page-files.ts';
import { isOurs } from './security.ts';

const scheme = new URL(appOrigin).protocol.replace(':', '');

/** Before Electron is ready: the page's own scheme behaves like https. */
export const registerScheme = (): void =>
  protocol.registerSchemesAsPrivileged([
    { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);

/** Answers requests for the page from the files that were read at the start: a name that is not among them is not there. */
export const servePage = (files: PageFiles): void =>
  protocol.handle(scheme, ({ url }) => {
    const file = isOurs(url) ? files.get(new URL(url).pathname) : undefined;
    if (!file) return new Response('Not found', { status: 404, headers: pageHeaders() });
    return new Response(file.bytes, { headers: { ...pageHeaders(), 'Content-Type': file.type } });
  });
