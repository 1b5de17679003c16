import { readdir } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { formatFilesPage } from '../../formats/board/files-page.ts';
import { HEAD_LENGTH, LIVE_POLICY, liveHead, waitingPage } from '../../formats/board/live-page.ts';
import type { Door } from './admission.ts';
import { admit } from './admission.ts';
import type { OpenedFile } from './open-below.ts';
import { isPlainPart, openBelow } from './open-below.ts';

/** What is served, to whom, and how the watch stands just now, in one line. */
export interface Served {
  readonly folder: string;
  readonly door: Door;
  readonly standing: () => string;
}

/** Pages of gemel bring their own policy; this one holds beside it. A file from outside that looks like a page can do no more. */
const PAGE_POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const HTML = 'text/html; charset=utf-8';
const TYPES: Readonly<Record<string, string>> = { html: HTML, json: 'application/json; charset=utf-8', pdf: 'application/pdf' };

const FOLDERS: readonly string[] = ['repeat-cards', 'sheets'];

const ALWAYS = {
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'X-Frame-Options': 'DENY',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Content-Security-Policy': PAGE_POLICY,
  'Cache-Control': 'no-store',
};

/** Answers one request: the live board, `live.json`, or one of the files gemel made. Resolves when the answer is sent or the client gone. */
export async function answerRequest(served: Served, request: IncomingMessage, response: ServerResponse): Promise<void> {
  for (const [name, value] of Object.entries(ALWAYS)) response.setHeader(name, value);
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'This server only shows.');
  }
  const [path, query] = splitOnce(request.url ?? '', '?');
  switch (admit(served.door, request, new URLSearchParams(query))) {
    case 'wrong-host':
      return sendText(response, 421, 'Ask for this board by localhost or 127.0.0.1.');
    case 'no-token':
      response.setHeader('WWW-Authenticate', 'Bearer');
      return sendText(response, 401, 'This board needs its token: open the address that gemel watch printed.');
    case 'remember':
      return remember(served.door, path, response);
    case 'enter':
      return show(served, path, request, response);
  }
}

async function show({ folder, standing }: Served, path: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
  if (path === '/') return showLive(folder, request, response);
  if (path === '/live.json') {
    await using board = await held(folder, ['board.html']);
    return send(request, response, { type: 'application/json; charset=utf-8', body: JSON.stringify({ board: board.file?.version ?? '', standing: standing() }) });
  }
  if (path === '/files') return send(request, response, { type: HTML, body: formatFilesPage(await shownFiles(folder)) });
  const parts = partsOf(path);
  const type = typeOf(parts?.at(-1) ?? '');
  if (parts === undefined || type === undefined || !isShown(parts)) return sendText(response, 404, 'There is no such page.');
  await using found = await held(folder, parts);
  const { file } = found;
  if (file === undefined) return sendText(response, 404, 'There is no such page.');
  response.setHeader('Cache-Control', 'private, no-cache');
  response.setHeader('ETag', file.version);
  if (parts[0] === 'board.html') response.setHeader('Content-Security-Policy', LIVE_POLICY);
  if (request.headers['if-none-match'] === file.version) return void response.writeHead(304).end();
  response.writeHead(200, { 'Content-Type': type, 'Content-Length': file.sizeBytes });
  await sendRest(file, 0, request, response);
}

async function showLive(folder: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
  await using found = await held(folder, ['board.html']);
  const { file } = found;
  response.setHeader('Content-Security-Policy', LIVE_POLICY);
  if (file === undefined) return send(request, response, { type: HTML, body: waitingPage() });
  const { buffer, bytesRead } = await file.handle.read(Buffer.alloc(HEAD_LENGTH), 0, HEAD_LENGTH, 0);
  // Byte by byte: a letter may be cut in two at the end, and nothing of it may change.
  const head = buffer.toString('latin1', 0, bytesRead);
  const begun = Buffer.from(liveHead(head, file.version) ?? head, 'latin1');
  response.writeHead(200, { 'Content-Type': HTML, 'Content-Length': file.sizeBytes - bytesRead + begun.length });
  if (request.method !== 'HEAD') response.write(begun);
  await sendRest(file, bytesRead, request, response);
}

async function shownFiles(folder: string): Promise<readonly string[]> {
  const below = await Promise.all(FOLDERS.map(async (name) => (await readdir(join(folder, name), { withFileTypes: true }).catch(() => [])).filter((entry) => entry.isFile() && isPlainPart(entry.name)).map((entry) => `${name}/${entry.name}`)));
  return [...below.flat(), 'report.json'].filter((file) => typeOf(file) !== undefined);
}

function typeOf(file: string): string | undefined {
  return TYPES[/\.([a-z]+)$/.exec(file)?.[1] ?? ''];
}

/** The names below the output folder that are for showing. */
function isShown(parts: readonly string[]): boolean {
  const [first = ''] = parts;
  return parts.length === 1 ? first === 'board.html' || first === 'report.json' : FOLDERS.includes(first);
}

/** What stands between the slashes, decoded; undefined when that is no text. */
function partsOf(path: string): readonly string[] | undefined {
  if (!path.startsWith('/')) return undefined;
  try {
    return path.slice(1).split('/').map(decodeURIComponent);
  } catch {
    return undefined;
  }
}

/** The token leaves the address, where histories and screens would keep it. Only ever back to this server: no part may be empty. */
function remember(door: Door, path: string, response: ServerResponse): void {
  const parts = path === '/' ? [] : partsOf(path);
  if (door.kind !== 'token' || parts === undefined || parts.includes('')) return sendText(response, 404, 'There is no such page.');
  // Lax, not Strict: a link in a message must work at the first go. Nothing here can be changed by following one.
  response.setHeader('Set-Cookie', `${door.cookie}=${door.token}; Path=/; HttpOnly; SameSite=Lax`);
  response.writeHead(303, { Location: `/${parts.map(encodeURIComponent).join('/')}`, 'Content-Length': 0 }).end();
}

/** A file that closes itself when its reader is done. */
async function held(folder: string, parts: readonly string[]): Promise<AsyncDisposable & { readonly file: OpenedFile | undefined }> {
  const file = await openBelow(folder, parts);
  return { file, [Symbol.asyncDispose]: async () => file?.handle.close() };
}

/** As fast as the client takes it, never more of it in memory than one piece; and no longer than the file was when it was opened. */
async function sendRest({ handle, sizeBytes }: OpenedFile, start: number, request: IncomingMessage, response: ServerResponse): Promise<void> {
  if (request.method === 'HEAD' || start >= sizeBytes) return void response.end();
  await pipeline(handle.createReadStream({ start, end: sizeBytes - 1, autoClose: false }), response);
}

function send(request: IncomingMessage, response: ServerResponse, { type, body }: { readonly type: string; readonly body: string }): void {
  response.writeHead(200, { 'Content-Type': type, 'Content-Length': Buffer.byteLength(body) });
  response.end(request.method === 'HEAD' ? undefined : body);
}

function sendText(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', 'Content-Length': Buffer.byteLength(text) + 1 });
  response.end(`${text}\n`);
}

function splitOnce(text: string, sign: string): readonly [string, string] {
  const at = text.indexOf(sign);
  return at < 0 ? [text, ''] : [text.slice(0, at), text.slice(at + 1)];
}
