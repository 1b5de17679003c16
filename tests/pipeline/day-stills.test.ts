import { describe, expect, it } from 'vitest';
import { stillKey } from '../../src/formats/sheet/content.ts';
import { DayStills } from '../../src/pipeline/day-stills.ts';
import type { Catalogue, FrameSource, ReadClipPath } from '../../src/ports.ts';
import { MemoryCatalogue } from '../support/memory-catalogue.ts';

const signal = new AbortController().signal;
const WANTED = [{ clip: 'a.mov', frame: 0 }, { clip: 'a.mov', frame: 48 }, { clip: 'b.mov', frame: 7 }];
const pathOf = (file: string): ReadClipPath => ({ clip: { file, kind: 'movie' }, path: `/media/${file}`, rateText: '24' });
const picture = (file: string, frame: number, widthPx: number): Uint8Array => new TextEncoder().encode(`${file} ${frame} ${widthPx}`);

/** Decodes words instead of pictures, and notes what it was asked for. */
class Words implements FrameSource {
  readonly asked: string[] = [];
  readonly #broken: string | undefined;

  constructor(broken?: string) {
    this.#broken = broken;
  }

  async stills({ clip }: ReadClipPath, frames: readonly number[], widthPx: number): Promise<readonly Uint8Array[]> {
    this.asked.push(`${clip.file} ${frames.join(',')}`);
    if (clip.file === this.#broken) throw new Error('cannot be decoded');
    return frames.map((frame) => picture(clip.file, frame, widthPx));
  }
}

async function stillsOf(source: FrameSource, catalogue: Catalogue | undefined, { contentOf = (clip: string): string | undefined => `content of ${clip}`, widthPx = 480, beforehand = async (_stills: DayStills): Promise<void> => {} } = {}): Promise<ReadonlyMap<string, Uint8Array>> {
  const stills = new DayStills(WANTED, catalogue, contentOf);
  await beforehand(stills);
  return stills.all(source, pathOf, widthPx, signal);
}

describe('the stills of a day', () => {
  it('are decoded once, each clip in one go, and not again for a later run', async () => {
    const catalogue = new MemoryCatalogue();
    const source = new Words();
    const first = await stillsOf(source, catalogue);
    expect(source.asked).toEqual(['a.mov 0,48', 'b.mov 7']);
    expect(first).toEqual(new Map(WANTED.map((still) => [stillKey(still), picture(still.clip, still.frame, 480)])));
    const second = await stillsOf(source, catalogue);
    expect(source.asked).toHaveLength(2);
    // What was kept comes back as a Buffer.
    expect(new Map([...second].map(([key, bytes]) => [key, Uint8Array.from(bytes)]))).toEqual(first);
  });

  it('are decoded anew when the clip has other content, or another width is wanted', async () => {
    const catalogue = new MemoryCatalogue();
    await stillsOf(new Words(), catalogue);
    const source = new Words();
    await stillsOf(source, catalogue, { contentOf: (clip) => (clip === 'a.mov' ? 'other content' : `content of ${clip}`) });
    expect(source.asked).toEqual(['a.mov 0,48']);
    await stillsOf(source, catalogue, { widthPx: 320 });
    expect(source.asked).toHaveLength(3);
  });

  it('are taken on their way when a sheet decodes them', async () => {
    const forSheets = new Words();
    const forBoard = new Words();
    const found = await stillsOf(forBoard, undefined, {
      beforehand: async (stills) => void (await stills.keeping(forSheets).stills(pathOf('a.mov'), [0, 20, 48], 480, signal)),
    });
    expect(forBoard.asked).toEqual(['b.mov 7']);
    expect([...found.keys()].toSorted()).toEqual(WANTED.map(stillKey).toSorted());
  });

  it('leave out a clip that gives none, and keep nothing of a clip whose content is not known', async () => {
    const catalogue = new MemoryCatalogue();
    const found = await stillsOf(new Words('a.mov'), catalogue, { contentOf: () => undefined });
    expect([...found.keys()]).toEqual([stillKey({ clip: 'b.mov', frame: 7 })]);
    expect(await catalogue.keys('still')).toEqual([]);
  });
});
