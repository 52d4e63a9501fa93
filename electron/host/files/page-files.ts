import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, sep } from 'node:path';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';

/** One file of the built page, ready to be sent. */
export interface PageFile {
  bytes: Uint8Array<ArrayBuffer>;
  type: string;
}

/** The built page by request path, `/` being its index. Whatever is not in the map cannot be requested. */
export type PageFiles = ReadonlyMap<string, PageFile>;

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
};

/**
 * Reads the whole page at once (some 2 MB): a request is then looked up by its name and never becomes a path on the disk, so
 * path traversal is impossible.
 *
 * Fails with `page-missing` when `folder` does not hold an index.html.
 */
export function readPageFiles(folder: string): Outcome<PageFiles> {
  const files = new Map<string, PageFile>();
  try {
    for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue;
      const path = join(entry.parentPath, entry.name);
      const name = path.slice(join(folder, sep).length).split(sep).join('/');
      const type = types[extname(name)] ?? 'application/octet-stream';
      files.set(`/${name}`, { bytes: readFileSync(path), type });
    }
  } catch {
    return fail(fault('page-missing', { folder }));
  }
  const index = files.get('/index.html');
  if (!index) return fail(fault('page-missing', { folder }));
  return ok(files.set('/', index));
}

/**
 * The headers of every response to the page: nothing is loaded but our own files, and no code is evaluated from text.
 *
 * @param socket  origin of the WebSocket that the page may open, if any; `'self'` alone does not cover it in every browser
 */
export const pageHeaders = (socket?: string): Record<string, string> => ({
  'Content-Security-Policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    `connect-src 'self'${socket ? ` ${socket}` : ''}`,
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  // Ports belong to the host; and nothing here looks, listens or asks where it is.
  'Permissions-Policy': 'serial=(), usb=(), hid=(), bluetooth=(), camera=(), microphone=(), geolocation=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  // Everything is on this computer: requesting again costs nothing, and a new version shows at once.
  'Cache-Control': 'no-store',
});
