import type { LeadPictures } from '../../core/checks/lead-pictures.ts';
import type { ClipId } from '../../core/material/clip.ts';
import type { SyncEvidence } from '../../core/matching/sync.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { Catalogue, PictureAnswer, PictureMeter, PictureOrder, Progress } from '../../ports.ts';
import type { PicturePlan, PlannedPicture } from './plan-pictures.ts';

/** Raised whenever the same pictures may be measured otherwise: then nothing kept from before holds. */
const METHOD = 3;
/** Under this the catalogue keeps what was measured. */
export const PICTURE = 'picture';

export interface PicturePorts {
  readonly meter: PictureMeter;
  readonly progress: Progress;
  readonly signal: AbortSignal;
  /** Keeps answers by what is in the clips, so that nothing is decoded twice. */
  readonly memory?: PictureMemory;
}

export interface PictureMemory {
  readonly catalogue: Catalogue;
  readonly contentOf: (clip: ClipId) => string | undefined;
  /** Has sets measured elsewhere, each answer kept in the catalogue under its key; what did not come about is measured here. */
  readonly elsewhere?: (sets: readonly (readonly PictureElsewhere[])[], onDone: (leads: number) => void) => Promise<void>;
}

/** A lead with its passes to be measured elsewhere, and the key its answer is kept under. */
export interface PictureElsewhere {
  readonly key: string;
  readonly order: PictureOrder;
}

/** What was measured, with the PNG panels of each lead. */
export interface DayPictures {
  readonly leads: readonly LeadPictures[];
  readonly shown: ReadonlyMap<ClipId, readonly Uint8Array[]>;
}

const NONE: DayPictures = { leads: [], shown: new Map() };

/**
 * Measures what is planned, several sets at once, and answers in the order of the plan. What an earlier run kept, or `before`
 * holds of the same passes at the same offset, is not measured again.
 */
export async function measurePictures(plan: PicturePlan, ports: PicturePorts, before: DayPictures = NONE): Promise<DayPictures> {
  const { meter, progress, signal } = ports;
  const recalled = await recall(plan, ports, before);
  const known = (await askElsewhere(plan, recalled, ports)) ? await recall(plan, ports, before) : recalled;
  const open = openSets(plan, known);
  if (open.length > 0) {
    progress.start('pictures', open.flat().length, 0);
    const queue = [...open];
    const next = async (): Promise<void> => {
      for (let set = queue.shift(); set !== undefined; set = queue.shift()) {
        const answers = await meter.measure(set.map(({ order }) => order), signal);
        set.forEach((one, index) => void known.set(one.lead, keptOf(answers[index])));
        await keep(set, known, ports);
        progress.advance(set.length, 0);
      }
    };
    await Promise.all(Array.from({ length: meter.atOnce }, next));
    progress.done();
  }
  const planned = plan.sets.flat();
  const shown = new Map(planned.flatMap(({ lead }) => { const answer = known.get(lead); return answer !== undefined && 'panels' in answer && answer.panels !== undefined ? [[lead, answer.panels] as const] : []; }));
  return { leads: [...planned.map((one) => leadOf(one, known.get(one.lead))), ...plan.not], shown };
}

function openSets({ sets }: PicturePlan, known: ReadonlyMap<ClipId, Answer>): readonly (readonly PlannedPicture[])[] {
  return sets.map((set) => set.filter((one) => !known.has(one.lead))).filter((set) => set.length > 0);
}

/** Whether anybody elsewhere was asked. */
async function askElsewhere(plan: PicturePlan, known: ReadonlyMap<ClipId, Answer>, { memory, progress }: PicturePorts): Promise<boolean> {
  const sets = openSets(plan, known)
    .map((set) => set.flatMap((one) => { const key = keyOf(one, memory?.contentOf); return key === undefined ? [] : [{ key, order: one.order }]; }))
    .filter((set) => set.length > 0);
  if (memory?.elsewhere === undefined || sets.length === 0) return false;
  progress.start('pictures on the farm', sets.flat().length, 0);
  try {
    await memory.elsewhere(sets, (leads) => progress.advance(leads, 0));
  } finally {
    progress.done();
  }
  return true;
}

/** What sound and camera motion say of how passes lie over each other, for the matching. */
export function evidenceOf(leads: readonly LeadPictures[]): readonly SyncEvidence[] {
  return leads.flatMap((one) => {
    if (one.kind !== 'measured' || one.swapped === undefined) return [];
    const { lead, swapped: clip, picture } = one;
    return ([['guide-audio', picture.sound], ['camera-motion', picture.cameraMotion]] as const).flatMap(([kind, answer]) =>
      answer.kind === 'measured' ? [{ kind, lead, clip, offset: answer.offset, confidence: answer.confidence, words: answer.words }] : [],
    );
  });
}

type Answer = KeptAnswer | { readonly undecodable: string };

/** What is kept of an answer: the panels alone, for sheets and the board. */
interface KeptAnswer {
  readonly picture: PictureAnswer['picture'];
  readonly panels?: readonly Uint8Array[];
}

function keptOf(answer: PictureAnswer | { readonly undecodable: string } | undefined): Answer {
  if (answer === undefined || 'undecodable' in answer) return answer ?? { undecodable: 'no answer' };
  return { picture: answer.picture, ...panelsOf(answer.shown?.panels) };
}

function leadOf({ lead, swapped, clean, elements, standIns }: PlannedPicture, answer: Answer | undefined): LeadPictures {
  if (answer === undefined || 'undecodable' in answer) return { kind: 'not-measured', lead, why: answer?.undecodable ?? 'not measured' };
  return { kind: 'measured', lead, ...(swapped === undefined ? {} : { swapped }), ...(clean === undefined ? {} : { clean }), elements, standIns, picture: answer.picture };
}

/** Answers that need no decoding, by lead. */
async function recall(plan: PicturePlan, { memory }: PicturePorts, before: DayPictures): Promise<Map<ClipId, Answer>> {
  const known = new Map<ClipId, Answer>();
  const planned = plan.sets.flat();
  for (const one of planned) {
    const same = before.leads.find((measured) => measured.lead === one.lead && isOf(measured, one));
    if (same?.kind === 'measured') known.set(one.lead, { picture: same.picture, ...panelsOf(before.shown.get(one.lead)) });
  }
  const keys = new Map(planned.flatMap((one) => { const key = known.has(one.lead) ? undefined : keyOf(one, memory?.contentOf); return key === undefined ? [] : [[one.lead, key] as const]; }));
  const kept = (await memory?.catalogue.find(PICTURE, [...keys.values()])) ?? new Map<string, string>();
  for (const [lead, key] of keys) {
    const answer = read(kept.get(key));
    if (answer !== undefined) known.set(lead, answer);
  }
  return known;
}

function isOf(measured: LeadPictures, { swapped, clean, elements, order }: PlannedPicture): boolean {
  return measured.kind === 'measured' && measured.swapped === swapped && measured.clean === clean && measured.elements.join('\n') === elements.join('\n') && measured.picture.offset === order.offset;
}

async function keep(set: readonly PlannedPicture[], known: ReadonlyMap<ClipId, Answer>, { memory }: PicturePorts): Promise<void> {
  const entries = set.flatMap((one) => {
    const [key, answer] = [keyOf(one, memory?.contentOf), known.get(one.lead)];
    if (key === undefined || answer === undefined || 'undecodable' in answer) return [];
    return [[key, textOf(answer)] as const];
  });
  if (entries.length > 0) await memory?.catalogue.keep(PICTURE, new Map(entries));
}

/** An answer as the catalogue keeps it under its key. */
export function pictureText(answer: PictureAnswer): string {
  return textOf({ picture: answer.picture, ...panelsOf(answer.shown?.panels) });
}

function textOf({ picture, panels = [] }: KeptAnswer): string {
  return formatTagged({ picture, panels: panels.map(hexOf) });
}

/** Everything an answer depends on; undefined when the content of a clip has no name, and then nothing is kept. */
function keyOf({ lead, swapped, clean, elements, order }: PlannedPicture, contentOf: ((clip: ClipId) => string | undefined) | undefined): string | undefined {
  const clips = [lead, swapped, clean, ...elements].map((clip) => (clip === undefined ? 'none' : contentOf?.(clip)));
  if (clips.includes(undefined)) return undefined;
  const places = [order.lead, order.pass, order.clean, ...order.elements].map((place) => [place?.squeeze, place?.frames, place?.everyFrame]);
  const { offset, offsetIsGuess, rate, range, movingCamera, wantsLine, within } = order;
  return textDigest(formatTagged([METHOD, clips, places, offset, offsetIsGuess, rate, range, movingCamera, wantsLine, within]));
}

/** A text that cannot be read is measured anew: everything kept can be. */
function read(text: string | undefined): KeptAnswer | undefined {
  if (text === undefined) return undefined;
  try {
    const { picture, panels } = parseTagged(text) as { readonly picture: PictureAnswer['picture']; readonly panels: readonly string[] }; // written by keep, under a key that holds METHOD
    return { picture, ...(panels.length === 0 ? {} : { panels: panels.map(bytesOf) }) };
  } catch {
    return undefined;
  }
}

function panelsOf(panels: readonly Uint8Array[] | undefined): { readonly panels?: readonly Uint8Array[] } {
  return panels === undefined ? {} : { panels };
}

function hexOf(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += byte.toString(16).padStart(2, '0');
  return text;
}

function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from({ length: hex.length / 2 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16));
}
