import { spawnSync } from 'node:child_process';
import { closeSync, mkdirSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DiskHistoryWriter } from '../src/adapters/filesystem/disk-history-writer.ts';
import { DiskPackageStore } from '../src/adapters/filesystem/disk-package-store.ts';
import { explainFailure } from '../src/adapters/filesystem/explain-failure.ts';
import { FileHasher } from '../src/adapters/hash/file-hasher.ts';
import { FastXmlReader } from '../src/adapters/xml/fast-xml-reader.ts';
import type { HashFormat } from '../src/formats/mhl/hash-format.ts';
import { sealFolder } from '../src/steps/seal/seal-folder.ts';

const MB = 1 << 20;

/** Time by the clock and time of all processors, both in ms. On a machine with other work only the second is to be compared. */
export interface Spent {
  readonly ms: number;
  readonly cpuMs: number;
}

/** Best of three, taken in turns so that other work on the machine strikes all alike. */
export interface SealFigures {
  readonly gigabytes: number;
  readonly files: number;
  /** Sealing the folder, threads, listing and manifest included, against an outside program over the same files. */
  readonly rows: readonly { readonly format: HashFormat; readonly seal: Spent; readonly wasm: Spent | undefined; readonly theirs: Spent | undefined; readonly outside: string }[];
  readonly pairs: readonly { readonly formats: readonly HashFormat[]; readonly onePass: Spent; readonly twoPasses: Spent }[];
  /** Peak of the whole process after files of 64 MB, and after one of 1 GB. */
  readonly peakSmallMb: number;
  readonly peakLargeMb: number;
}

/** Seals 2 GB of files, page cache warm. Needs as much room in the folder for temporary files. */
export async function benchSeal(): Promise<SealFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-seal-bench-'));
  try {
    const paths = Array.from({ length: 32 }, (_, index) => invent(join(folder, `A017C${String(index + 1).padStart(3, '0')}.mov`), 64, index));
    const rows: SealFigures['rows'][number][] = [];
    for (const [format, outside, args] of OUTSIDE) {
      const own: Spent[] = [];
      const wasm: Spent[] = [];
      const theirs: Spent[] = [];
      for (let round = 0; round < 3; round++) {
        own.push(await seal(folder, [format]));
        if (format.startsWith('xxh')) wasm.push(await seal(folder, [format], false));
        theirs.push(...outsideSpent(outside, [...args, ...paths]));
      }
      rows.push({ format, seal: best(own), wasm: wasm.length === 0 ? undefined : best(wasm), theirs: theirs.length === 0 ? undefined : best(theirs), outside: [outside, ...args].join(' ') });
    }
    const pairs: SealFigures['pairs'][number][] = [];
    for (const [first, second] of PAIRS) {
      const runs = { both: [] as Spent[], first: [] as Spent[], second: [] as Spent[] };
      for (let round = 0; round < 3; round++) {
        runs.both.push(await seal(folder, [first, second]));
        runs.first.push(await seal(folder, [first]));
        runs.second.push(await seal(folder, [second]));
      }
      const [one, two] = [best(runs.first), best(runs.second)];
      pairs.push({ formats: [first, second], onePass: best(runs.both), twoPasses: { ms: one.ms + two.ms, cpuMs: one.cpuMs + two.cpuMs } });
    }
    const peakSmallMb = process.resourceUsage().maxRSS / 1024;
    for (const path of paths) rmSync(path);
    invent(join(folder, 'long.mov'), 1024, 0);
    await seal(folder, ['xxh64', 'xxh128']);
    return { gigabytes: 2, files: paths.length, rows, pairs, peakSmallMb, peakLargeMb: process.resourceUsage().maxRSS / 1024 };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function best(runs: readonly Spent[]): Spent {
  return { ms: Math.min(...runs.map(({ ms }) => ms)), cpuMs: Math.min(...runs.map(({ cpuMs }) => cpuMs)) };
}

const PAIRS: readonly (readonly [HashFormat, HashFormat])[] = [['xxh64', 'xxh128'], ['xxh64', 'md5']];
const OUTSIDE: readonly (readonly [HashFormat, string, readonly string[]])[] = [
  ['xxh64', 'xxhsum', ['-H1']],
  ['xxh128', 'xxhsum', ['-H2']],
  ['xxh3', 'xxhsum', ['-H3']],
  ['md5', 'md5sum', []],
];

/** A file of bytes that do not repeat within a megabyte, and differ from file to file. */
function invent(path: string, megabytes: number, seed: number): string {
  mkdirSync(join(path, '..'), { recursive: true });
  const piece = new Uint32Array(MB / 4);
  let state = seed * 2654435761 + 1;
  const file = openSync(path, 'w');
  for (let count = 0; count < megabytes; count++) {
    for (let index = 0; index < piece.length; index += 16) piece[index] = state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    writeSync(file, new Uint8Array(piece.buffer));
  }
  closeSync(file);
  return path;
}

async function seal(folder: string, formats: readonly HashFormat[], useNative = true): Promise<Spent> {
  const start = performance.now();
  const before = process.cpuUsage();
  await using hasher = await FileHasher.open({ explain: explainFailure, useNative });
  const silent = { start() {}, advance() {}, done() {} };
  const clock = { nowMs: () => 0, pause: async () => {} };
  const sealed = await sealFolder(folder, { formats, tool: { name: 'gemel', version: 'bench' }, hostname: 'bench' }, {
    store: new DiskPackageStore(), hasher, writer: new DiskHistoryWriter(), xml: new FastXmlReader({ lists: true }), clock, progress: silent,
  }, new AbortController().signal);
  const { user, system } = process.cpuUsage(before);
  const ms = performance.now() - start;
  if (sealed.kind !== 'sealed') throw new Error(JSON.stringify(sealed.problems));
  // Every run is a first one.
  rmSync(join(folder, 'ascmhl'), { recursive: true });
  return { ms, cpuMs: (user + system) / 1000 };
}

/** What the shell's own `time` says of a program; nothing when it is not installed. */
function outsideSpent(program: string, args: readonly string[]): readonly Spent[] {
  const done = spawnSync('bash', ['-c', 'TIMEFORMAT="%R %U %S"; time "$@" >/dev/null', 'bash', program, ...args], { encoding: 'utf8', env: { ...process.env, LC_ALL: 'C' } });
  const [real, user, system] = (done.stderr ?? '').trim().split(/\s+/).slice(-3).map((seconds) => Number(seconds) * 1000);
  return done.status === 0 && real !== undefined && user !== undefined && system !== undefined ? [{ ms: real, cpuMs: user + system }] : [];
}
