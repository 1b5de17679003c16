import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { BlockList, isIP } from 'node:net';

const LOOPBACK = new BlockList();
LOOPBACK.addSubnet('127.0.0.0', 8);
LOOPBACK.addAddress('::1', 'ipv6');

/** Whether only this machine can reach an address: 127.0.0.0/8 and ::1 (RFC 6890). */
export function isLoopback(address: string): boolean {
  const family = isIP(address);
  return family !== 0 && LOOPBACK.check(address, family === 6 ? 'ipv6' : 'ipv4');
}

/** 192 random bits, in letters an address may hold. */
export function newToken(): string {
  return randomBytes(24).toString('base64url');
}

/** Who may see the board: on loopback whoever asks this machine by its own name, elsewhere whoever has the token. */
export type Door = { readonly kind: 'loopback' } | { readonly kind: 'token'; readonly token: string; readonly cookie: string };

/** `enter`; `remember` when the token came in the address and is better kept as a cookie; or what is wrong. */
export type Admission = 'enter' | 'remember' | 'wrong-host' | 'no-token';

/** Decides whether a request may be answered. `query` is what stands behind the "?" of its address. */
export function admit(door: Door, request: IncomingMessage, query: URLSearchParams): Admission {
  // A page elsewhere may point its own name at 127.0.0.1 and let a browser here ask for it: then the Host is that name.
  if (door.kind === 'loopback') return isOwnName(request.headers.host ?? '') ? 'enter' : 'wrong-host';
  const asked = query.get('token');
  if (asked !== null && isSame(asked, door.token)) return 'remember';
  const bearer = /^Bearer +([^ ]+) *$/i.exec(request.headers.authorization ?? '')?.[1];
  const kept = cookieOf(request.headers.cookie ?? '', door.cookie);
  return [bearer, kept].some((given) => given !== undefined && isSame(given, door.token)) ? 'enter' : 'no-token';
}

function isOwnName(host: string): boolean {
  const name = /^(\[[0-9a-f:.]+\]|[^:@/]+)(?::\d+)?$/i.exec(host)?.[1]?.replace(/^\[|\]$/g, '').toLowerCase();
  return name !== undefined && (name === 'localhost' || isLoopback(name));
}

function cookieOf(header: string, name: string): string | undefined {
  return header.split(';').map((pair) => pair.trim()).find((pair) => pair.startsWith(`${name}=`))?.slice(name.length + 1);
}

/** In the same time whatever differs: digests are of one length, and a digest says nothing of how near a guess was. */
function isSame(given: string, token: string): boolean {
  const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(token));
}
