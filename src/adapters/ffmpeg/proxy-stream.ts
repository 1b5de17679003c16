import type { ChildProcess } from 'node:child_process';
import type { Readable } from 'node:stream';
import type { ProgramEnd } from './program-at-work.ts';
import { ProgramAtWork } from './program-at-work.ts';

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

/** Runs one decode to its end and hands on what it writes. It waits for whoever takes it, so memory does not grow. @throws {Error} when it does not start, the sink throws or the signal fires; the program has ended then. */
export async function streamProxies(program: string, args: readonly string[], sink: ProxySink, { lumaBytes, colourBytes, stallMs, signal }: ProxyRun): Promise<ProgramEnd> {
  await using work = new ProgramAtWork(program, args, { stdio: ['ignore', 'pipe', 'pipe', 'pipe', 'pipe'], stallMs, signal });
  const { child, alive } = work;
  await Promise.all([inFrames(pipeOf(child, 1), lumaBytes, sink.luma, alive), inFrames(pipeOf(child, 3), colourBytes, sink.colour, alive), inPieces(pipeOf(child, 4), sink.sound, alive)]);
  return work.end();
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
