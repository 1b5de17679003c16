import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import type { Readable } from 'node:stream';
import { stallWatch } from './stall-watch.ts';

/** What comes out of one decode, piece by piece. Buffers are written over after the call. */
export interface ProxySink {
  readonly luma: (frame: Uint8Array) => void;
  readonly colour: (frame: Uint8Array) => void;
  readonly sound: (piece: Uint8Array) => void;
}

export interface ProxyRun {
  readonly lumaBytes: number;
  readonly colourBytes: number;
  /** A program that writes nothing for so long is stopped. */
  readonly stallMs: number;
  readonly signal: AbortSignal;
}

/** How a decode ended: what the program said, and whether it went well. */
export interface ProxyEnd {
  readonly code: number | null;
  readonly said: string;
  readonly stalled: boolean;
}

const STDERR_CHARS = 4000;

/** Runs one decode to its end and hands on what it writes. It waits for whoever takes it, so memory does not grow. @throws {Error} when it does not start, the sink throws or the signal fires; the program has ended then. */
export async function streamProxies(program: string, args: readonly string[], sink: ProxySink, { lumaBytes, colourBytes, stallMs, signal }: ProxyRun): Promise<ProxyEnd> {
  signal.throwIfAborted();
  const child = spawn(program, [...args], { stdio: ['ignore', 'pipe', 'pipe', 'pipe', 'pipe'], windowsHide: true });
  const ended = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  ended.catch(() => {});
  const stop = (): void => void child.kill('SIGKILL');
  signal.addEventListener('abort', stop, { once: true });
  let said = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => { said = (said + text).slice(-STDERR_CHARS); });
  const watch = stallWatch(stallMs, stop);
  try {
    const taken = [inFrames(pipeOf(child, 1), lumaBytes, sink.luma, watch.alive), inFrames(pipeOf(child, 3), colourBytes, sink.colour, watch.alive), inPieces(pipeOf(child, 4), sink.sound, watch.alive)];
    await Promise.all(taken);
    const code = await ended;
    signal.throwIfAborted();
    return { code, said, stalled: watch.stalled() };
  } finally {
    watch.end();
    signal.removeEventListener('abort', stop);
    stop();
    await Promise.allSettled([ended]);
  }
}

function pipeOf(child: ChildProcess, number: 1 | 3 | 4): AsyncIterable<Uint8Array> {
  return child.stdio[number] as Readable; // all three were asked for as pipes
}

async function inFrames(pieces: AsyncIterable<Uint8Array>, bytes: number, take: (frame: Uint8Array) => void, alive: () => void): Promise<void> {
  const frame = new Uint8Array(bytes);
  let filled = 0;
  for await (const piece of pieces) {
    for (let at = 0; at < piece.length; ) {
      const part = piece.subarray(at, at + bytes - filled);
      frame.set(part, filled);
      filled += part.length;
      at += part.length;
      if (filled < bytes) continue;
      take(frame);
      filled = 0;
    }
    alive();
  }
}

async function inPieces(pieces: AsyncIterable<Uint8Array>, take: (piece: Uint8Array) => void, alive: () => void): Promise<void> {
  for await (const piece of pieces) {
    take(piece);
    alive();
  }
}
