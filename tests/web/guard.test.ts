import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveWorkbench } from '../../electron/web/serve.ts';
import { keyOf, makePage, sendRequest, serveWith, socketStatus } from './test-workbench.ts';
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
  /** A request inside the page's folder. */
  const getPage = (path: string, headers: Record<string, string> = {}, method?: string) =>
    get(`${served.pageFolder}${path}`, headers, method);

  it('listens on the loopback address only', () => {
    expect(new URL(served.workbench.newAddress()).hostname).toBe('127.0.0.1');
  });

  it.each(['/', '/index.html', '/assets/main.js', '/assets/nothing.js', '/guess/', '//', '/?key='])(
    'serves nothing outside the folder of this run, whose name is in the address: %s',
    async (path) => {
      const answer = await get(path);
      expect([400, 403]).toContain(answer.status);
      expect(answer.body).not.toContain('page');
    },
  );

  it('keeps its keys out of every request: they stand in the fragment, which no browser sends', () => {
    const { search, hash, pathname } = new URL(served.workbench.newAddress());
    expect(search).toBe('');
    const key = keyOf(served.workbench.newAddress());
    expect(Buffer.from(key, 'base64url').length).toBe(32);
    expect(hash).toMatch(/^#key=[\w-]{43}$/u);
    expect(pathname).toMatch(/^\/[\w-]{43}\/$/u);
  });

  it('sets no cookie, since the programs of other users would get it on their ports', async () => {
    for (const path of ['', 'assets/main.js', 'nothing'])
      expect((await getPage(path)).headers['set-cookie']).toBeUndefined();
  });

  it('does not serve the folder of another run', async () => {
    expect((await get(other.pageFolder)).status).toBe(403);
    expect((await get(served.pageFolder.slice(0, -1))).status).toBe(403);
    expect((await get(served.pageFolder)).status).toBe(200);
  });

  it.each(['localhost', 'evil.example', '127.0.0.1', '127.0.0.1:1', '[::1]'])(
    'answers under no other name: Host %s',
    async (host) => {
      expect((await getPage('', { host })).status).toBe(403);
    },
  );

  it.each(['http://evil.example', 'null', 'http://127.0.0.1', 'http://localhost', 'http://127.0.0.1:1'])(
    'does not answer other web pages: Origin %s',
    async (origin) => {
      expect((await getPage('assets/main.js', { origin })).status).toBe(403);
    },
  );

  it('answers its own origin', async () => {
    expect((await getPage('assets/main.js', { origin: `http://${served.authority}` })).status).toBe(200);
  });

  it.each([
    '../secret.txt',
    'assets/../../secret.txt',
    '%2e%2e/secret.txt',
    '..%2fsecret.txt',
    '..\\secret.txt',
    '../page-beside/secret.txt',
    'assets/%00',
    'assets',
    'assets/',
    'constructor',
    '/secret.txt',
    '%',
    '\\[',
  ])('finds nothing at %s', async (path) => {
    expect((await getPage(path)).status).toBe(404);
  });

  it.each(['//evil.example/', 'http://evil.example/', '*'])('refuses %s as an invalid address', async (path) => {
    expect((await get(path)).status).toBe(400);
  });

  it('allows only GET and HEAD', async () => {
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) expect((await getPage('', {}, method)).status).toBe(405);
    const head = await getPage('', {}, 'HEAD');
    expect([head.status, head.body]).toEqual([200, '']);
  });

  it.each([
    ['', 'text/html; charset=utf-8'],
    ['assets/main.js', 'text/javascript; charset=utf-8'],
    ['assets/main.css', 'text/css; charset=utf-8'],
    ['assets/type.woff2', 'font/woff2'],
  ])('sets the content type of %s', async (path, type) => {
    expect((await getPage(path)).headers['content-type']).toBe(type);
  });

  it.each(['', 'assets/main.js', 'nothing'])(
    'forbids foreign and evaluated code in every response: %s',
    async (path) => {
      const { headers } = await getPage(path);
      const policy = String(headers['content-security-policy']).split('; ');
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain(`connect-src 'self' ws://${served.authority}`);
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy.join()).not.toMatch(/unsafe|\*/);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
      expect(headers['cache-control']).toBe('no-store');
      expect(headers['permissions-policy']).toContain('serial=()');
    },
  );

  describe('at the opening of a socket', () => {
    const good = () => ({ Host: served.authority, Origin: `http://${served.authority}` });
    const status = (headers: Record<string, string>, path?: string) => socketStatus(served.authority, headers, path);

    it('accepts its own page', async () => {
      expect(await status(good())).toBe('HTTP/1.1 101 Switching Protocols');
    });
    it('refuses a request without an origin', async () => {
      const { Origin: _, ...headers } = good();
      expect(await status(headers)).toBe('HTTP/1.1 403 Forbidden');
    });
    it.each(['http://evil.example', 'null', 'http://localhost', 'http://127.0.0.1:1', 'file://'])(
      'refuses a foreign origin: %s',
      async (origin) => {
        expect(await status({ ...good(), Origin: origin })).toBe('HTTP/1.1 403 Forbidden');
      },
    );
    it('refuses a foreign name that points to this computer', async () => {
      expect(await status({ ...good(), Host: `evil.example:${served.authority.split(':')[1]}` })).toBe(
        'HTTP/1.1 403 Forbidden',
      );
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
