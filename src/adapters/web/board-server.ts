import { lookup } from 'node:dns/promises';
import { once } from 'node:events';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import { createServer } from 'node:http';
import { networkInterfaces } from 'node:os';
import { UsageError } from '../../core/material/errors.ts';
import type { Door } from './admission.ts';
import { isLoopback, newToken } from './admission.ts';
import { answerRequest } from './answer-request.ts';

/** Where and what to serve. Port 0 takes any that is free. */
export interface BoardServerOptions {
  readonly folder: string;
  readonly host: string;
  readonly port: number;
  /** How the watch stands, in one line. */
  readonly standing: () => string;
  /** Hears what went wrong with a request or a client; nothing of that ends the server. */
  readonly onTrouble: (problem: unknown) => void;
}

/** Slow and silent clients: so many at once, so long for a request, so long without a byte taken. */
const LIMITS = { connections: 256, headersMs: 10_000, requestMs: 15_000, idleMs: 30_000, headerBytes: 16_384 };

/** The board over HTTP for as long as it is held open. On loopback whoever is on this machine may read; elsewhere a token is needed, which `url` carries. */
export class BoardServer {
  /** Where to open the board; with the token when there is one. */
  readonly url: string;
  readonly #server: Server;

  private constructor(server: Server, url: string) {
    this.#server = server;
    this.url = url;
  }

  /** @throws {UsageError} when the host is not known or the port cannot be had. */
  static async open({ folder, host, port, standing, onTrouble }: BoardServerOptions): Promise<BoardServer> {
    const address = await addressOf(host);
    const open = isLoopback(address);
    const token = newToken();
    const server = createServer({
      headersTimeout: LIMITS.headersMs, requestTimeout: LIMITS.requestMs, keepAliveTimeout: 5_000, maxHeaderSize: LIMITS.headerBytes, connectionsCheckingInterval: 5_000,
    });
    server.maxConnections = LIMITS.connections;
    server.setTimeout(LIMITS.idleMs);
    const taken = await listen(server, address, port, host);
    // A browser gives a cookie to every port of a host: two watches must not overwrite each other's.
    const door: Door = open ? { kind: 'loopback' } : { kind: 'token', token, cookie: `gemel-${taken}` };
    server.on('request', (request, response) => void answerSafely({ folder, door, standing }, { request, response, onTrouble }));
    server.on('error', onTrouble);
    return new BoardServer(server, `http://${shownHost(address)}:${taken}/${open ? '' : `?token=${token}`}`);
  }

  async [Symbol.asyncDispose](): Promise<void> {
    const closed = once(this.#server, 'close');
    this.#server.close();
    this.#server.closeAllConnections();
    await closed;
  }
}

async function answerSafely(served: Parameters<typeof answerRequest>[0], { request, response, onTrouble }: { readonly request: IncomingMessage; readonly response: ServerResponse; readonly onTrouble: (problem: unknown) => void }): Promise<void> {
  try {
    await answerRequest(served, request, response);
  } catch (problem) {
    // A client that goes away in the middle is no trouble.
    if (!response.destroyed) onTrouble(problem);
    if (response.headersSent) response.destroy();
    else response.writeHead(500).end();
  }
}

async function addressOf(host: string): Promise<string> {
  try {
    return (await lookup(host)).address;
  } catch (cause) {
    throw new UsageError([`--host ${host} is no address this machine knows (${codeOf(cause)}); leave it out for 127.0.0.1, or give 0.0.0.0 for every network of this machine`]);
  }
}

/** The port that was taken. */
async function listen(server: Server, address: string, port: number, host: string): Promise<number> {
  try {
    server.listen({ host: address, port });
    await once(server, 'listening');
  } catch (cause) {
    throw new UsageError([whyNot(codeOf(cause), port, host)]);
  }
  const taken = server.address();
  return typeof taken === 'object' && taken !== null ? taken.port : port;
}

function whyNot(code: string, port: number, host: string): string {
  if (code === 'EADDRINUSE') return `port ${port} of ${host} is in use; stop what uses it or give --serve another port (0 takes any that is free)`;
  if (code === 'EACCES') return `port ${port} may not be taken by this user; give --serve a port from 1024 on`;
  if (code === 'EADDRNOTAVAIL') return `--host ${host} is no address of this machine; give one of its own, or 0.0.0.0 for all`;
  return `the board cannot be served at ${host}, port ${port} (${code})`;
}

/** A name people can open: for "every network" the first address others can reach. */
function shownHost(address: string): string {
  const isEvery = address === '0.0.0.0' || address === '::';
  const reachable = isEvery ? Object.values(networkInterfaces()).flatMap((all) => all ?? []).find(({ internal, family }) => !internal && family === 'IPv4')?.address : address;
  const shown = reachable ?? 'localhost';
  return shown.includes(':') ? `[${shown}]` : shown;
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
