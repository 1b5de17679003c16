import type { ClipId } from '../core/material/clip-id.ts';
import { byteDigest } from '../formats/catalogue/digest.ts';
import { stillKey } from '../formats/sheet/content.ts';
import { DRAWN } from '../formats/sheet/picture-study.ts';
import type { FrameSource, ReadClipPath } from '../ports.ts';
import type { PageToMake } from '../steps/sheet/deliver-sheets.ts';

type Elsewhere = (pages: readonly PageToMake[]) => Promise<ReadonlyMap<string, Uint8Array>>;

/** Pictures that were drawn of what was measured, served where stills of clips are: by the lead they are of, panel by panel. */
export class DrawnPictures {
  readonly #panels: ReadonlyMap<string, readonly Uint8Array[]>;

  constructor(byLead: ReadonlyMap<ClipId, readonly Uint8Array[]>) {
    this.#panels = new Map([...byLead].map(([lead, panels]) => [`${DRAWN}${lead}`, panels]));
  }

  /** A place for a drawn picture, which no decoder is asked about; undefined for clips. */
  placeOf(name: string): ReadClipPath | undefined {
    return this.#panels.has(name) ? { clip: { file: name, kind: 'movie' }, path: name, rateText: undefined } : undefined;
  }

  /** What tells a drawn picture from others of its name. */
  nameOf(name: string): string | undefined {
    return this.#panels.get(name)?.map(byteDigest).join('-');
  }

  /** The same source, asked for clips alone. */
  before(source: FrameSource): FrameSource {
    return {
      stills: async (path, frames, widthPx, signal) => {
        const panels = this.#panels.get(path.clip.file);
        return panels === undefined ? source.stills(path, frames, widthPx, signal) : frames.map((frame) => panels[frame]);
      },
    };
  }

  /** Machines elsewhere have clips and no drawn pictures: pages that show some are made here. */
  onlyOthers(elsewhere: Elsewhere): Elsewhere {
    return async (pages) => elsewhere(pages.filter(({ plan }) => !plan.stills.some(({ clip }) => this.#panels.has(clip))));
  }

  /** All of them by still. */
  all(): readonly (readonly [string, Uint8Array])[] {
    return [...this.#panels].flatMap(([clip, panels]) => panels.map((bytes, frame) => [stillKey({ clip, frame }), bytes] as const));
  }
}
