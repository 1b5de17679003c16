import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, realpathSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { BoardServerOptions } from '../../../src/adapters/web/board-server.ts';
import { BoardServer } from '../../../src/adapters/web/board-server.ts';
import { isLoopback } from '../../../src/adapters/web/admission.ts';
import { UsageError } from '../../../src/core/material/errors.ts';
import { formatBoard } from '../../../src/formats/board/board.ts';
import { makeJudgedDay } from '../../support/make-judged.ts';

const BOARD = formatBoard(makeJudgedDay(), { show: 'Saltmarsh Row', stills: new Map() });
let above: string;
let folder: string;
let troubles: unknown[];

beforeEach(() => {
  above = realpathSync(mkdtempSync(join(tmpdir(), 'gemel-web-')));
  folder = join(above, 'out');
  troubles = [];
  for (const name of ['sheets', 'repeat-cards', '.gemel/log']) mkdirSync(join(folder, name), { recursive: true });
  writeFileSync(join(above, 'secret.json'), 'secret');
  writeFileSync(join(folder, 'board.html'), BOARD);
  writeFileSync(join(folder, 'report.json'), '{"schema":"gemel/report/1"}');
  writeFileSync(join(folder, 'sheets', '27B-A.pdf'), '%PDF-1.7');
  writeFileSync(join(folder, 'sheets', 'Σκηνή 31 #1.pdf'), '%PDF-1.7 31');
  writeFileSync(join(folder, 'repeat-cards', '50C-A.html'), '<!doctype html><title>50C</title>');
  writeFileSync(join(folder, '.gemel-made.json'), '{}');
  writeFileSync(join(folder, '.gemel', 'log', 'watch.log'), 'log');
  writeFileSync(join(folder, 'other.html'), 'other');
});
afterEach(() => {
  expect(troubles).toEqual([]);
  rmSync(above, { recursive: true, force: true });
});

const open = async (over: Partial<BoardServerOptions> = {}): Promise<BoardServer> =>
  BoardServer.open({ folder, host: '127.0.0.1', port: 0, standing: () => 'watching 12 files', onTrouble: (problem) => troubles.push(problem), ...over });

/** Asks with the path as it is written: fetch would tidy it first. */
async function ask(server: BoardServer, path: string, { method = 'GET', headers = {} }: { readonly method?: string; readonly headers?: Record<string, string> } = {}): Promise<{ status: number; headers: Record<string, unknown>; body: string }> {
  const { hostname, port } = new URL(server.url);
  const asked = request({ host: hostname, port, path, method, headers, agent: false });
  asked.end();
  const [answer] = await once(asked, 'response');
  let body = '';
  for await (const piece of answer.setEncoding('utf8')) body += String(piece);
  return { status: answer.statusCode, headers: answer.headers, body };
}

describe('the served board', () => {
  it('shows what gemel made, each with its type, the files to the byte', async () => {
    await using server = await open();
    const shown = await Promise.all(['/board.html', '/report.json', '/sheets/27B-A.pdf', `/sheets/${encodeURIComponent('Σκηνή 31 #1.pdf')}`, '/repeat-cards/50C-A.html'].map((path) => ask(server, path)));
    expect(shown.map(({ status, headers }) => [status, headers['content-type']])).toEqual([
      [200, 'text/html; charset=utf-8'], [200, 'application/json; charset=utf-8'], [200, 'application/pdf'], [200, 'application/pdf'], [200, 'text/html; charset=utf-8'],
    ]);
    expect(shown[0]?.body).toBe(BOARD);
    expect(shown[3]?.body).toBe('%PDF-1.7 31');
    const list = await ask(server, '/files');
    for (const link of ['sheets/27B-A.pdf', 'sheets/%CE%A3%CE%BA%CE%B7%CE%BD%CE%AE%2031%20%231.pdf', 'repeat-cards/50C-A.html']) expect(list.body).toContain(`href="${link}"`);
    expect(list.body).not.toContain('other');
  });

  it('shows the board at its address with the script that keeps it current, and changes nothing else of it', async () => {
    await using server = await open();
    const { body, headers } = await ask(server, '/');
    expect(Number(headers['content-length'])).toBe(Buffer.byteLength(body));
    const board = await ask(server, '/board.html');
    expect(body).toContain(`<script data-board="${String(board.headers['etag']).replaceAll('"', '&quot;')}">`);
    expect(body.replace(/<script data-board[^]*?<\/script>/, '')).toBe(BOARD.replace(/<meta http-equiv[^>]*>/, ''));
  });

  it('waits with a page of its own while there is no board, and tells when there is another', async () => {
    await using server = await open();
    const first = JSON.parse((await ask(server, '/live.json')).body);
    expect(first.standing).toBe('watching 12 files');
    rmSync(join(folder, 'board.html'));
    expect(JSON.parse((await ask(server, '/live.json')).body).board).toBe('');
    expect((await ask(server, '/')).body).toContain('There is no board yet');
    writeFileSync(join(folder, 'next'), BOARD);
    renameSync(join(folder, 'next'), join(folder, 'board.html'));
    const next = JSON.parse((await ask(server, '/live.json')).body);
    expect(next.board).not.toBe(first.board);
    expect((await ask(server, '/board.html', { headers: { 'if-none-match': next.board } })).status).toBe(304);
    expect((await ask(server, '/board.html', { headers: { 'if-none-match': first.board } })).status).toBe(200);
  });

  it('shows nothing else: not above, not hidden, not by a link, not a folder, not a pipe', async () => {
    symlinkSync(join(above, 'secret.json'), join(folder, 'sheets', 'linked.json'));
    symlinkSync(above, join(folder, 'sheets', 'up'));
    symlinkSync('27B-A.pdf', join(folder, 'sheets', 'inside.pdf'));
    mkdirSync(join(folder, 'sheets', 'folder.pdf'));
    execFileSync('mkfifo', [join(folder, 'sheets', 'pipe.pdf')]);
    mkdirSync(join(folder, 'sheets', '.hidden'));
    writeFileSync(join(folder, 'sheets', '.hidden', 'x.json'), 'hidden');
    writeFileSync(join(folder, 'sheets', 'script.js'), 'x');
    await using server = await open();
    const paths = [
      '/../secret.json', '/sheets/../../secret.json', '/sheets/..%2f..%2fsecret.json', '/sheets/%2e%2e/%2e%2e/secret.json', '/sheets/..%5c..%5csecret.json', '/sheets//27B-A.pdf', '//sheets/27B-A.pdf',
      '/sheets/linked.json', '/sheets/up/secret.json', '/sheets/inside.pdf', '/sheets/folder.pdf', '/sheets/pipe.pdf', '/sheets/', '/sheets', '/sheets/.hidden/x.json', '/sheets/script.js',
      '/.gemel-made.json', '/.gemel/log/watch.log', '/other.html', '/sheets/27B-A.pdf%00', '/sheets/27B-A.pdf%00.json', '/%E0%A4%A', '/sheets/./27B-A.pdf', '/SHEETS/27B-A.pdf', '*', 'http://127.0.0.1/board.html',
    ];
    for (const path of paths) {
      const { status, body } = await ask(server, path);
      expect([path, status, body]).toEqual([path, 404, 'There is no such page.\n']);
    }
  });

  it('only shows: anything but GET and HEAD is refused, and HEAD has no body', async () => {
    await using server = await open();
    for (const method of ['POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS']) {
      const { status, headers } = await ask(server, '/board.html', { method });
      expect([method, status, headers['allow']]).toEqual([method, 405, 'GET, HEAD']);
    }
    for (const path of ['/', '/board.html', '/live.json', '/files']) {
      const [head, full] = [await ask(server, path, { method: 'HEAD' }), await ask(server, path)];
      expect([path, head.status, head.body, head.headers['content-length']]).toEqual([path, 200, '', full.headers['content-length']]);
    }
  });

  it('carries the headers that keep a page to itself on every answer, refusals too', async () => {
    await using server = await open();
    for (const path of ['/', '/board.html', '/report.json', '/files', '/live.json', '/sheets/27B-A.pdf', '/nothing']) {
      const { headers } = await ask(server, path);
      expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer', 'x-frame-options': 'DENY', 'cross-origin-resource-policy': 'same-origin' });
      expect(headers['content-security-policy']).toMatch(/^default-src 'none'; .*frame-ancestors 'none'$/);
      expect(headers['content-security-policy']).not.toMatch(/script-src[^;]*'unsafe|\*/);
    }
  });

  it('on loopback answers to the names of this machine alone, so that no page elsewhere can borrow its address', async () => {
    await using server = await open();
    const { port } = new URL(server.url);
    for (const host of [`localhost:${port}`, `127.0.0.1:${port}`, `[::1]:${port}`, 'localhost:9000', '127.0.0.1']) expect([host, (await ask(server, '/live.json', { headers: { host } })).status]).toEqual([host, 200]);
    for (const host of ['rebound.example', `rebound.example:${port}`, 'localhost.rebound.example', '127.0.0.1.rebound.example', 'user@localhost', '0.0.0.0', '10.0.0.5', '@']) {
      expect([host, (await ask(server, '/live.json', { headers: { host } })).status]).toEqual([host, 421]);
    }
  });

  it.each([['127.0.0.1', true], ['127.8.9.10', true], ['::1', true], ['0.0.0.0', false], ['::', false], ['192.168.1.5', false], ['128.0.0.1', false], ['localhost', false]])('%s is loopback: %s (RFC 6890)', (address, answer) => {
    expect(isLoopback(address)).toBe(answer);
  });
});

describe('the board served to others', () => {
  /** Bound to every network, asked through this machine. */
  async function openToAll(): Promise<{ server: BoardServer; token: string; at: (path: string, init?: RequestInit) => Promise<Response> } & AsyncDisposable> {
    const server = await open({ host: '0.0.0.0' });
    const { port, searchParams } = new URL(server.url);
    const token = searchParams.get('token') ?? '';
    return { server, token, at: async (path, init = {}) => fetch(`http://127.0.0.1:${port}${path}`, { redirect: 'manual', ...init }), [Symbol.asyncDispose]: () => server[Symbol.asyncDispose]() };
  }

  it('needs a token, another one each time, 192 bits long', async () => {
    await using one = await openToAll();
    await using other = await openToAll();
    expect(one.token).toMatch(/^[A-Za-z0-9_-]{32}$/);
    expect(one.token).not.toBe(other.token);
    for (const init of [{}, { headers: { authorization: `Bearer ${other.token}` } }, { headers: { authorization: `Basic ${one.token}` } }, { headers: { cookie: `gemel=${one.token}` } }]) {
      const answer = await one.at('/board.html', init);
      expect([answer.status, answer.headers.get('www-authenticate'), await answer.text()]).toEqual([401, 'Bearer', 'This board needs its token: open the address that gemel watch printed.\n']);
    }
    for (const wrong of ['', one.token.slice(0, -1), `${one.token}x`, 'x'.repeat(5000)]) expect((await one.at(`/?token=${wrong}`)).status).toBe(401);
    expect((await one.at('/nothing')).status).toBe(401);
  });

  it('takes the token out of the address, keeps it as a cookie no script sees, or takes it as a header', async () => {
    await using all = await openToAll();
    const first = await all.at(`/?token=${all.token}`);
    expect([first.status, first.headers.get('location')]).toEqual([303, '/']);
    const kept = first.headers.get('set-cookie') ?? '';
    expect(kept).toMatch(/^gemel-\d+=[^;]+; Path=\/; HttpOnly; SameSite=Lax$/);
    const cookie = `theme=dark; ${kept.split(';')[0]}`;
    expect((await all.at('/', { headers: { cookie } })).status).toBe(200);
    expect((await all.at('/report.json', { headers: { authorization: `Bearer ${all.token}` } })).status).toBe(200);
    const sheet = await all.at(`/sheets/27B-A.pdf?token=${all.token}`);
    expect([sheet.status, sheet.headers.get('location')]).toEqual([303, '/sheets/27B-A.pdf']);
  });

  it('never sends the token on to another place', async () => {
    await using all = await openToAll();
    for (const path of ['//rebound.example/', '/%2F%2Frebound.example', '/\\rebound.example']) {
      const { headers, status } = await ask(all.server, `${path}?token=${all.token}`);
      expect([path, status === 404 || String(headers['location']).startsWith('/%')]).toEqual([path, true]);
    }
  });
});

describe('the server and its clients', () => {
  it('says plainly why it cannot serve where it should', async () => {
    await using server = await open();
    const port = Number(new URL(server.url).port);
    await expect(open({ port })).rejects.toThrow(new UsageError([`port ${port} of 127.0.0.1 is in use; stop what uses it or give --serve another port (0 takes any that is free)`]));
    await expect(open({ host: 'no such host' })).rejects.toThrow(/--host no such host is no address this machine knows/);
    // TEST-NET-1, RFC 5737: nobody's address.
    await expect(open({ host: '192.0.2.1' })).rejects.toThrow(/no address of this machine/);
  });

  it('answers at once while sixty clients take nothing of a large board, and holds none of it in memory', async () => {
    writeFileSync(join(folder, 'board.html'), BOARD + ' '.repeat(40_000_000));
    await using server = await open();
    const { hostname, port } = new URL(server.url);
    const before = process.memoryUsage().rss;
    const slow = Array.from({ length: 60 }, () => {
      const socket = connect(Number(port), hostname);
      socket.pause();
      socket.on('error', () => {});
      socket.write('GET /board.html HTTP/1.1\r\nHost: localhost\r\n\r\n');
      return socket;
    });
    await Promise.all(slow.map((socket) => once(socket, 'connect')));
    for (let count = 0; count < 20; count += 1) expect((await fetch(`${server.url}live.json`)).status).toBe(200);
    // 60 × 40 MB would be 2.4 GB.
    expect(process.memoryUsage().rss - before).toBeLessThan(300_000_000);
    for (const socket of slow) socket.destroy();
  });

  it('survives what is no HTTP, and clients that go away in the middle', async () => {
    writeFileSync(join(folder, 'board.html'), BOARD + ' '.repeat(5_000_000));
    await using server = await open();
    const { hostname, port } = new URL(server.url);
    for (const text of ['\u0016\u0003\u0001', 'GET / HTTP/9.9\r\n\r\n', 'GET /board.html HTTP/1.1\r\nHost: localhost\r\n\r\n', `GET / HTTP/1.1\r\nHost: localhost\r\nX: ${'x'.repeat(40_000)}\r\n\r\n`]) {
      const socket = connect(Number(port), hostname);
      socket.on('error', () => {});
      socket.write(text);
      await once(socket, 'data');
      socket.destroy();
    }
    expect((await fetch(`${server.url}live.json`)).status).toBe(200);
  });

  it('ends at once when it is let go, whoever still listens', async () => {
    writeFileSync(join(folder, 'board.html'), BOARD + ' '.repeat(5_000_000));
    const server = await open();
    const { hostname, port } = new URL(server.url);
    const socket = connect(Number(port), hostname);
    socket.on('error', () => {});
    socket.write('GET /board.html HTTP/1.1\r\nHost: localhost\r\n\r\n');
    await once(socket, 'data');
    await server[Symbol.asyncDispose]();
    await expect(fetch(server.url)).rejects.toThrow();
    await using again = await open({ port: Number(port) });
    expect(new URL(again.url).port).toBe(port);
  });
});
