import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveWorkbench } from '../../electron/web/serve.ts';
import { makePage, sendRequest, serveWith, socketStatus } from './test-workbench.ts';
import type { Served } from './test-workbench.ts';

describe('the browser host', () => {
  const page = makePage();
  let served: Served;
  let other: Served;
  beforeAll(async () => {
    served = await serveWith(page.folder, {});
    other = await serveWith(page.folder, {});
  });
  afterAll(async () => {
    await served.workbench.close();
    await other.workbench.close();
    page.remove();
  });
  const get = (path: string, headers: Record<string, string> = {}, method?: string) =>
    sendRequest(served.authority, path, headers, method);
  const withCookie = (path: string, headers: Record<string, string> = {}) =>
    get(path, { cookie: served.cookie, ...headers });

  it('listens on the loopback address only', () => {
    expect(new URL(served.workbench.url).hostname).toBe('127.0.0.1');
  });

  it.each([
    '/',
    '/index.html',
    '/assets/main.js',
    '/assets/nothing.js',
    '/?key=',
    '/?key=guess',
    '/assets/main.js?key=',
  ])('serves nothing without access key or cookie: %s', async (path) => {
    const answer = await get(path);
    expect(answer.status).toBe(403);
    expect(answer.body).not.toContain('page');
    expect(answer.headers['set-cookie']).toBeUndefined();
  });

  it('accepts the access key for the first page only, and sets a cookie that scripts and other sites cannot use', async () => {
    const search = new URL(served.workbench.url).search;
    const first = await get(`/${search}`);
    expect(first.status).toBe(200);
    expect(first.body).toContain('<title>page</title>');
    const [cookie] = first.headers['set-cookie'] ?? [];
    expect(cookie?.split('; ').slice(1).toSorted()).toEqual(['HttpOnly', 'Path=/', 'SameSite=Strict']);
    expect(cookie).not.toContain(search.slice('?key='.length));
    expect((await get(`/assets/main.js${search}`)).status).toBe(403);
  });

  it('serves a reload and a second tab by the cookie', async () => {
    for (let i = 0; i < 2; i += 1) {
      const answer = await withCookie('/');
      expect(answer.status).toBe(200);
      expect(answer.headers['set-cookie']).toBeUndefined();
    }
    expect((await withCookie('/assets/main.js', { cookie: `a=b; ${served.cookie}` })).status).toBe(200);
  });

  it('does not accept the access key or cookie of another run', async () => {
    expect((await get(`/${new URL(other.workbench.url).search}`)).status).toBe(403);
    expect((await get('/', { cookie: other.cookie })).status).toBe(403);
    const renamed = `${served.cookie.split('=')[0]}=${other.cookie.split('=')[1]}`;
    expect((await get('/', { cookie: renamed })).status).toBe(403);
  });

  it.each(['localhost', 'evil.example', '127.0.0.1', '127.0.0.1:1', '[::1]'])(
    'answers under no other name: Host %s',
    async (host) => {
      expect((await withCookie('/', { host })).status).toBe(403);
    },
  );

  it.each(['http://evil.example', 'null', 'http://127.0.0.1', 'http://localhost', 'http://127.0.0.1:1'])(
    'does not answer other web pages: Origin %s',
    async (origin) => {
      expect((await withCookie('/assets/main.js', { origin })).status).toBe(403);
    },
  );

  it('answers its own origin', async () => {
    expect((await withCookie('/assets/main.js', { origin: `http://${served.authority}` })).status).toBe(200);
  });

  it.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/..\\secret.txt',
    '/../page-beside/secret.txt',
    '/assets/%00',
    '/assets',
    '/assets/',
    '/constructor',
    '/%',
    '/\\[',
  ])('finds nothing at %s', async (path) => {
    expect((await withCookie(path)).status).toBe(404);
  });

  it.each(['//evil.example/', 'http://evil.example/', '*'])('refuses %s as an invalid address', async (path) => {
    expect((await withCookie(path)).status).toBe(400);
  });

  it('allows only GET and HEAD', async () => {
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS'])
      expect((await get('/', { cookie: served.cookie }, method)).status).toBe(405);
    const head = await get('/', { cookie: served.cookie }, 'HEAD');
    expect([head.status, head.body]).toEqual([200, '']);
  });

  it.each([
    ['/', 'text/html; charset=utf-8'],
    ['/assets/main.js', 'text/javascript; charset=utf-8'],
    ['/assets/main.css', 'text/css; charset=utf-8'],
    ['/assets/type.woff2', 'font/woff2'],
  ])('sets the content type of %s', async (path, type) => {
    expect((await withCookie(path)).headers['content-type']).toBe(type);
  });

  it.each(['/', '/assets/main.js', '/nothing'])(
    'forbids foreign and evaluated code in every response: %s',
    async (path) => {
      const { headers } = await withCookie(path);
      const policy = String(headers['content-security-policy']).split('; ');
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain(`connect-src 'self' ws://${served.authority}`);
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy.join()).not.toMatch(/unsafe|\*/);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
      expect(headers['cache-control']).toBe('no-store');
    },
  );

  describe('at the opening of a socket', () => {
    const good = () => ({
      Host: served.authority,
      Origin: `http://${served.authority}`,
      Cookie: served.cookie,
    });
    const status = (headers: Record<string, string>, path?: string) => socketStatus(served.authority, headers, path);

    it('accepts its own page', async () => {
      expect(await status(good())).toBe('HTTP/1.1 101 Switching Protocols');
    });
    it('refuses a page that has no cookie', async () => {
      const { Cookie: _, ...headers } = good();
      expect(await status(headers)).toBe('HTTP/1.1 403 Forbidden');
    });
    it('refuses a request without an origin', async () => {
      const { Origin: _, ...headers } = good();
      expect(await status(headers)).toBe('HTTP/1.1 403 Forbidden');
    });
    it('refuses a foreign origin even with the cookie', async () => {
      expect(await status({ ...good(), Origin: 'http://evil.example' })).toBe('HTTP/1.1 403 Forbidden');
      expect(await status({ ...good(), Origin: `http://${other.authority}` })).toBe('HTTP/1.1 403 Forbidden');
    });
    it('refuses a foreign name that points to this computer', async () => {
      expect(await status({ ...good(), Host: `evil.example:${served.authority.split(':')[1]}` })).toBe(
        'HTTP/1.1 403 Forbidden',
      );
    });
    it('does not accept the access key instead of the cookie', async () => {
      const { Cookie: _, ...headers } = good();
      expect(await status(headers, `/socket${new URL(served.workbench.url).search}`)).toBe('HTTP/1.1 403 Forbidden');
    });
    it('has one path for it', async () => {
      expect(await status(good(), '/elsewhere')).toBe('HTTP/1.1 404 Not Found');
      expect(await status(good(), '//socket')).toBe('HTTP/1.1 400 Bad Request');
    });
  });

  it('reports that its port is in use', async () => {
    const port = Number(served.authority.split(':')[1]);
    const started = await serveWorkbench({
      host: { handlers: {} as never },
      port,
      rendererFolder: page.folder,
      onBug: () => {},
    });
    expect(started.ok ? undefined : started.fault).toMatchObject({ code: 'address-in-use', facts: { port } });
  });

  it('reports that its page is not built', async () => {
    const started = await serveWorkbench({
      host: { handlers: {} as never },
      port: 0,
      rendererFolder: `${page.folder}-not`,
      onBug: () => {},
    });
    expect(started.ok ? undefined : started.fault.code).toBe('page-missing');
  });
});
