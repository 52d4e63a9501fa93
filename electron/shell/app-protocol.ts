import { protocol } from 'electron';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { pageHeaders, type PageFiles } from '../host/files/page-files.ts';
import { isOwnPage } from './security.ts';

const scheme = new URL(appOrigin).protocol.replace(':', '');

/** Makes the page's own scheme behave like https. To be called before Electron is ready. */
export const registerScheme = (): void =>
  protocol.registerSchemesAsPrivileged([
    { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);

/** Answers requests for the page from the files that were read at the start; any other name is not found. */
export const servePage = (files: PageFiles): void =>
  protocol.handle(scheme, ({ url }) => {
    const file = isOwnPage(url) ? files.get(new URL(url).pathname) : undefined;
    if (!file) return new Response('Not found', { status: 404, headers: pageHeaders() });
    return new Response(file.bytes, { headers: { ...pageHeaders(), 'Content-Type': file.type } });
  });
