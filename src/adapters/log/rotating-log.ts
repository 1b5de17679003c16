import { closeSync, fstatSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { pino } from 'pino';
import type { Logger } from 'pino';

/** How large one file may grow, and how many older ones are kept beside it. */
export interface LogLimits {
  readonly sizeBytes: number;
  readonly kept: number;
}

const LIMITS: LogLimits = { sizeBytes: 5_000_000, kept: 5 };

/** A log of JSON lines that never grows beyond its limits: `watch.log`, then `watch.log.1` (older) and so on. A full disk silences it, and stops nothing. */
export function rotatingLog(path: string, limits: LogLimits = LIMITS): Logger {
  return pino({ base: null, timestamp: pino.stdTimeFunctions.isoTime, formatters: { level: (label) => ({ level: label }) } }, new RotatingFile(path, limits));
}

class RotatingFile {
  readonly #path: string;
  readonly #limits: LogLimits;
  #file: number | undefined;
  #sizeBytes = 0;

  constructor(path: string, limits: LogLimits) {
    this.#path = path;
    this.#limits = limits;
  }

  write(line: string): void {
    try {
      if (this.#file !== undefined && this.#sizeBytes + line.length > this.#limits.sizeBytes) this.#rotate();
      this.#file ??= this.#open();
      this.#sizeBytes += writeSync(this.#file, line);
    } catch {
      this.#close();
    }
  }

  #open(): number {
    mkdirSync(dirname(this.#path), { recursive: true });
    const file = openSync(this.#path, 'a');
    this.#sizeBytes = fstatSync(file).size;
    return file;
  }

  #rotate(): void {
    this.#close();
    rmSync(`${this.#path}.${this.#limits.kept}`, { force: true });
    for (let number = this.#limits.kept - 1; number >= 1; number -= 1) move(`${this.#path}.${number}`, `${this.#path}.${number + 1}`);
    move(this.#path, `${this.#path}.1`);
  }

  #close(): void {
    if (this.#file !== undefined) closeSync(this.#file);
    this.#file = undefined;
  }
}

function move(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch {
    // Not there yet.
  }
}
