import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const SAMPLE = new URL('../sample-media/day-04/A014_K3QX/A014C002_261124_K3QX.mov', import.meta.url);
const PASSES = ['lead', 'swapped', 'clean', 'reference'] as const;
const RATE = 24;
/** Takes follow each other on the clock, 30 s apart. */
const APART_FRAMES = 30 * RATE;

/** The start timecode of a clip, as a frame count, is the one sample of its timecode track; this is where it lies in the sample clip. */
function timecodeAt(movie: Buffer): number {
  for (let at = movie.indexOf('stco'); at >= 0; at = movie.indexOf('stco', at + 1)) {
    const description = movie.lastIndexOf('stsd', at);
    if (movie.toString('latin1', description + 16, description + 20) === 'tmcd') return movie.readUInt32BE(at + 12);
  }
  throw new Error('the sample clip has no timecode track');
}

/** Invented clips of one camera, made of one small movie that differs in its timecode. */
export class InventedCard {
  readonly #movie = readFileSync(SAMPLE);
  readonly #timecodeAt = timecodeAt(this.#movie);

  /** `A007C012_261124_BNCH.mov`, 100 clips a roll. */
  name(number: number): string {
    const digits = (value: number): string => String(value).padStart(3, '0');
    return `A${digits(1 + Math.floor(number / 100))}C${digits(1 + (number % 100))}_261124_BNCH.mov`;
  }

  bytes(number: number): Buffer {
    const movie = Buffer.from(this.#movie);
    movie.writeUInt32BE((number * APART_FRAMES) % (24 * 3600 * RATE), this.#timecodeAt);
    return movie;
  }

  /** Clips `from` up to `to` (exclusive) below a folder, a folder a roll. */
  fill(folder: string, from: number, to: number): void {
    for (let number = from; number < to; number += 1) {
      const name = this.name(number);
      mkdirSync(join(folder, name.slice(0, 4)), { recursive: true });
      writeFileSync(join(folder, name.slice(0, 4), name), this.bytes(number));
    }
  }

  /** A log that makes a plate set of every four clips. */
  log(clips: number): string {
    const rows = Array.from({ length: clips }, (_, number) => `${this.name(number)},${1 + Math.floor(number / 80)}${String.fromCharCode(65 + (Math.floor(number / 4) % 20)).replace('I', 'V').replace('O', 'W')},${1 + (number % 4)},${PASSES[number % 4]},yes`);
    return ['File,Slate,Take,Pass,Circled', ...rows, ''].join('\n');
  }
}
