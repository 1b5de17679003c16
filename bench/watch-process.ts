import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const GEMEL = fileURLToPath(new URL('../bin/gemel.mjs', import.meta.url));

/** A `gemel watch` in a process of its own, seen from outside. */
export class WatchProcess {
  readonly #child: ChildProcess;
  readonly #ended: Promise<void>;
  readonly #began = performance.now();
  readonly lines: { readonly atMs: number; readonly text: string }[] = [];

  constructor(folder: string, args: readonly string[] = []) {
    const env = { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compile-cache'), NO_COLOR: '1' };
    this.#child = spawn(process.execPath, [GEMEL, 'watch', 'show.yaml', ...args], { cwd: folder, env, stdio: ['ignore', 'pipe', 'pipe'] });
    let begun = '';
    this.#child.stderr?.on('data', (bytes: Buffer) => {
      const lines = (begun + bytes.toString()).split('\n');
      // What is read may end in the middle of a line.
      begun = lines.pop() ?? '';
      for (const text of lines) if (text !== '') this.lines.push({ atMs: performance.now() - this.#began, text });
    });
    this.#ended = new Promise((resolve) => this.#child.once('exit', () => resolve()));
  }

  /** Milliseconds from the start to the first line that is so. */
  async line(isSo: (text: string) => boolean, from = 0, limitMs = 600_000): Promise<number> {
    const late = performance.now() + limitMs;
    while (performance.now() < late) {
      const found = this.lines.slice(from).find(({ text }) => isSo(text));
      if (found !== undefined) return found.atMs;
      if (this.#hasEnded) break;
      await pause(5);
    }
    throw new Error(`the watch never said so; it said:\n${this.lines.slice(-20).map(({ text }) => text).join('\n')}`);
  }

  /** Until it has nothing to do: all files settled, and no work begun for a while. */
  async rest(files: number, quietMs = 3000): Promise<number> {
    const isRest = ({ text }: { text: string }): boolean => text.startsWith(`watching ${files} files | clear`);
    for (;;) {
      await this.line((text) => isRest({ text }));
      const last = this.lines.at(-1);
      if (last !== undefined && isRest(last) && performance.now() - this.#began - last.atMs > quietMs) return last.atMs;
      if (this.#hasEnded) throw new Error('the watch ended');
      await pause(50);
    }
  }

  get #hasEnded(): boolean {
    return this.#child.exitCode !== null || this.#child.signalCode !== null;
  }

  /** Resident memory in MB, from /proc. */
  residentMb(): number {
    return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${this.#child.pid}/status`, 'utf8'))?.[1] ?? Number.NaN) / 1024;
  }

  /** Whether it ever had a child process: one that runs now, or page faults of children that ended (proc(5), cminflt). */
  hadChildren(): boolean {
    const fields = readFileSync(`/proc/${this.#child.pid}/stat`, 'utf8').replace(/^.*\) /s, '').split(' ');
    const running = readFileSync(`/proc/${this.#child.pid}/task/${this.#child.pid}/children`, 'utf8');
    return running !== '' || Number(fields[8]) > 0;
  }

  /** Processor time so far, in seconds. */
  cpuS(): number {
    const fields = readFileSync(`/proc/${this.#child.pid}/stat`, 'utf8').replace(/^.*\) /s, '').split(' ');
    return (Number(fields[11]) + Number(fields[12])) / 100;
  }

  get pid(): number {
    return this.#child.pid ?? 0;
  }

  async stop(signal: NodeJS.Signals = 'SIGINT'): Promise<void> {
    this.#child.kill(signal);
    await this.#ended;
  }
}
