import { parentPort, workerData } from 'node:worker_threads';
import type { HashAnswer, HashOrder, ThreadSetUp } from './hash-messages.ts';
import { PIECE_BYTES, readAtOnce } from './read-through.ts';
import { runningHashes } from './running-hashes.ts';

// A thread that hashes one file after the other, as it is told. It is started by file-hasher.ts and nothing else.

const TELL_EVERY_BYTES = 32 * PIECE_BYTES;

const { stop, useNative } = workerData as ThreadSetUp; // set by file-hasher.ts
const hashes = await runningHashes(useNative);
const buffer = new Uint8Array(PIECE_BYTES);
let untold = 0;

function tell(answer: HashAnswer): void {
  parentPort?.postMessage(answer);
}

function tellRead(): void {
  if (untold > 0) tell({ kind: 'read', bytes: untold });
  untold = 0;
}

function advance(bytes: number): void {
  untold += bytes;
  if (untold >= TELL_EVERY_BYTES) tellRead();
}

parentPort?.on('message', ({ path, formats }: HashOrder) => {
  try {
    const hashed = readAtOnce(path, formats, { hashes, buffer, advance, isStopped: () => Atomics.load(stop, 0) === 1 });
    tellRead();
    tell(hashed === undefined ? { kind: 'stopped' } : { kind: 'hashed', hashed });
  } catch (failure) {
    const code = failure instanceof Error && 'code' in failure ? String(failure.code) : undefined;
    tell({ kind: 'failed', message: failure instanceof Error ? failure.message : String(failure), code });
  }
});
