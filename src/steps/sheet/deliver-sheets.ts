import type { ClipId } from '../../core/material/clip.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import { formatTagged } from '../../formats/catalogue/tagged-json.ts';
import { stillKey } from '../../formats/sheet/content.ts';
import type { FrameSource, OutputFolder, Progress, ReadClipPath, SheetPrinter } from '../../ports.ts';
import type { SheetPlan } from './plan-sheets.ts';

/** Wide enough for two inches at print resolution. */
export const STILL_WIDTH_PX = 480;

export interface SheetPorts {
  readonly printer: SheetPrinter;
  readonly frames: FrameSource;
  /** Where a clip's bytes lie; undefined when it is not to be decoded. */
  readonly locate: (clip: ClipId) => ReadClipPath | undefined;
  readonly output: OutputFolder;
  readonly progress: Progress;
  readonly signal: AbortSignal;
  /** Names the printer and, for a clip, its content ("" when that is not known): a page made of the same things is not made again. Without it every page is. */
  readonly madeOf?: { readonly printer: string; readonly clip: (clip: ClipId) => string };
  /** Has pages made elsewhere and answers those that came about, by what they are made of; the others are made here. */
  readonly elsewhere?: (pages: readonly PageToMake[]) => Promise<ReadonlyMap<string, Uint8Array>>;
  /** Hears of each clip that should have given stills and did not, and why; its pictures are left as empty boxes. */
  readonly undecoded?: (clip: ClipId, reason: string) => void;
}

/** A page still to be made, and the name of everything it is made of. */
export interface PageToMake {
  readonly plan: SheetPlan;
  readonly madeOf: string;
}

/**
 * Makes the planned pages and answers their files, in the order of the plan. A page that an earlier run made of the same things is
 * left as it is. Each clip is decoded once, however many sheets show it; one that cannot be decoded leaves its boxes empty.
 */
export async function deliverSheets(plans: readonly SheetPlan[], ports: SheetPorts): Promise<readonly string[]> {
  const { output, progress, printer, signal } = ports;
  const marked = plans.map((plan) => ({ plan, madeOf: markOf(plan, ports) }));
  const absent: PageToMake[] = [];
  for (const one of marked) if (!(await output.holds(one.plan.file, one.madeOf))) absent.push(one);
  const wanted = await bringFromElsewhere(absent, ports);
  const shelf = new StillShelf(wanted.map(({ plan }) => plan), ports);
  progress.start('sheets', wanted.length, 0);
  const ahead: Promise<Stills>[] = [];
  for (const [index, { plan, madeOf }] of wanted.entries()) {
    signal.throwIfAborted();
    // While one page is printed, the decoder works for the next.
    for (const { plan: coming } of wanted.slice(index + ahead.length, index + PAGES_AHEAD)) ahead.push(fetchQuietly(shelf, coming));
    const stills = (await ahead.shift()) ?? new Map<string, Uint8Array>();
    // Boxes that stay empty today may be filled tomorrow: such a page is made again.
    const whole = plan.stills.every((still) => stills.has(stillKey(still)));
    await output.write(plan.file, await printer.print(plan.content, stills), whole ? madeOf : '');
    shelf.release(plan);
    progress.advance(1, 0);
  }
  progress.done();
  return plans.map(({ file }) => file);
}

/** The stills of a page; a failure waits until somebody awaits it. */
function fetchQuietly(shelf: StillShelf, plan: SheetPlan): Promise<Stills> {
  const stills = shelf.fetch(plan);
  stills.catch(() => {});
  return stills;
}

/** Writes the pages that were made elsewhere, and answers those still to be made. */
async function bringFromElsewhere(pages: readonly PageToMake[], { elsewhere, output }: SheetPorts): Promise<readonly PageToMake[]> {
  const named = pages.filter(({ madeOf }) => madeOf !== '');
  if (elsewhere === undefined || named.length === 0) return pages;
  const made = await elsewhere(named);
  for (const { plan, madeOf } of pages) {
    const bytes = made.get(madeOf);
    if (bytes !== undefined) await output.write(plan.file, bytes, madeOf);
  }
  return pages.filter(({ madeOf }) => !made.has(madeOf));
}

/** "" where the content of a clip has no name: such a page is always made anew, for its pictures may be others. */
function markOf({ content, stills }: SheetPlan, { madeOf }: SheetPorts): string {
  if (madeOf === undefined) return '';
  const named = [...new Set(stills.map(({ clip }) => clip))].map((clip) => ({ clip, name: madeOf.clip(clip) }));
  if (named.some(({ name }) => name === '')) return '';
  const clips = named.map(({ clip, name }) => `${clip} ${name}`);
  return textDigest([madeOf.printer, formatTagged(content), formatTagged(stills), ...clips].join('\n'));
}

type Stills = ReadonlyMap<string, Uint8Array>;

interface Shelved {
  readonly frames: Set<number>;
  /** Sheets still to come that show the clip; at none, its stills are let go. */
  waiting: number;
  stills: Promise<Stills> | undefined;
}

/** Pages whose stills are decoded or being decoded: shots of one set-up show the same clips, and the next set-up's should not wait for their printing. */
const PAGES_AHEAD = 5;


/** Decoded stills from the first sheet that shows a clip to the last. */
class StillShelf {
  readonly #ports: SheetPorts;
  readonly #clips = new Map<ClipId, Shelved>();

  constructor(plans: readonly SheetPlan[], ports: SheetPorts) {
    this.#ports = ports;
    for (const plan of plans) {
      for (const clip of clipsOf(plan)) this.#shelved(clip).waiting += 1;
      for (const { clip, frame } of plan.stills) this.#shelved(clip).frames.add(frame);
    }
  }

  /** The stills of one sheet, by key; those that could not be decoded are not among them. */
  async fetch(plan: SheetPlan): Promise<Stills> {
    const clips = clipsOf(plan);
    const found = await Promise.all(clips.map(async (clip) => {
      const shelved = this.#shelved(clip);
      shelved.stills ??= this.#decode(clip, [...shelved.frames].toSorted((a, b) => a - b));
      return shelved.stills;
    }));
    return new Map(found.flatMap((stills) => [...stills]));
  }

  release(plan: SheetPlan): void {
    for (const clip of clipsOf(plan)) {
      const shelved = this.#shelved(clip);
      shelved.waiting -= 1;
      if (shelved.waiting === 0) this.#clips.delete(clip);
    }
  }

  #shelved(clip: ClipId): Shelved {
    const known = this.#clips.get(clip) ?? { frames: new Set(), waiting: 0, stills: undefined };
    this.#clips.set(clip, known);
    return known;
  }

  async #decode(clip: ClipId, frames: readonly number[]): Promise<Stills> {
    const { locate, frames: source, signal, undecoded } = this.#ports;
    const path = locate(clip);
    if (path === undefined) return new Map();
    try {
      const decoded = await source.stills(path, frames, STILL_WIDTH_PX, signal);
      return new Map(frames.flatMap((frame, index) => {
        const still = decoded[index];
        return still === undefined ? [] : [[stillKey({ clip, frame }), still] as const];
      }));
    } catch (error) {
      signal.throwIfAborted();
      undecoded?.(clip, error instanceof Error ? error.message : String(error));
      return new Map();
    }
  }
}

function clipsOf({ stills }: SheetPlan): readonly ClipId[] {
  return [...new Set(stills.map(({ clip }) => clip))];
}
