import { readCut } from '../../coverage/cut-range.ts';
import { namesLead } from '../../coverage/shot-of-lead.ts';
import type { ShotRow } from '../../material/shot-list.ts';
import { lengthOf, overlap } from '../../timecode/range.ts';
import type { TiedEvent } from './lay-layer.ts';
import type { ShotCodeRules, ShotCodeSource } from './shot-code.ts';
import { codeFinder } from './shot-code.ts';

/** A shot's code and which rule gave it. */
export interface ShotName {
  readonly shot: string;
  readonly shotFrom: string;
}

/** Names the shot of a lead and what lies over it, by the first rule that finds a code. */
export type ShotNamer = (lead: TiedEvent, others: readonly TiedEvent[]) => ShotName;

/** What is said where no rule finds a code. */
export const ASSUMED = 'event number, assumed';

/** Makes the namer. `rows` are those of the shot list. */
export function shotNamer({ shotCodes, shotCodePatterns }: ShotCodeRules, rows: readonly ShotRow[]): ShotNamer {
  const codeIn = codeFinder(shotCodePatterns);
  const firstCode = (texts: readonly string[]): string | undefined => texts.map(codeIn).find((code) => code !== undefined);
  const find = (source: ShotCodeSource, lead: TiedEvent, others: readonly TiedEvent[]): string | undefined => {
    const events = [lead, ...others].map(({ event }) => event);
    switch (source) {
      case 'marker': return firstCode(events.flatMap(({ markers }) => markers.map(({ text }) => text)));
      case 'comment': return firstCode(events.flatMap(({ comments }) => comments));
      case 'clip-name': return firstCode(events.flatMap(({ clipName }) => clipName ?? []));
      case 'shot-list': return rowOf(lead, rows)?.shot;
      default: return source satisfies never;
    }
  };
  return (lead, others) => {
    for (const source of shotCodes) {
      const shot = find(source, lead, others);
      if (shot !== undefined) return { shot, shotFrom: source.replace('-', ' ') };
    }
    return { shot: `EVENT_${lead.event.number}`, shotFrom: ASSUMED };
  };
}

/** Texts of an event in which a code may stand. */
export interface CodeTexts {
  readonly markers: readonly string[];
  readonly comments: readonly string[];
  readonly clipName?: string;
}

/** Finds a shot code in the texts of an event. */
export type CodeReader = (texts: CodeTexts) => string | undefined;

/** Finds the code in the texts of an event whose clip is not known, by the same rules in the same order. */
export function textNamer({ shotCodes, shotCodePatterns }: ShotCodeRules): CodeReader {
  const codeIn = codeFinder(shotCodePatterns);
  return ({ markers, comments, clipName }) => {
    const texts: Readonly<Record<ShotCodeSource, readonly string[]>> = { marker: markers, comment: comments, 'clip-name': clipName === undefined ? [] : [clipName], 'shot-list': [] };
    return shotCodes.flatMap((source) => texts[source]).map(codeIn).find((code) => code !== undefined);
  };
}

/** The row of the shot list that shares most frames with the event; a row without a cut, where it is the only one for that take. */
function rowOf({ clip, range }: TiedEvent, rows: readonly ShotRow[]): ShotRow | undefined {
  const mine = rows.filter((row) => namesLead(row, clip));
  const shared = mine.flatMap((row) => {
    const cut = readCut(row, clip);
    const both = cut.kind === 'cut' ? overlap(cut.range, range) : undefined;
    return both === undefined ? [] : [{ row, frames: lengthOf(both) }];
  });
  const [best] = shared.toSorted((a, b) => b.frames - a.frames);
  const [only, ...more] = mine.filter(({ cutIn, cutOut }) => cutIn === undefined && cutOut === undefined);
  return best?.row ?? (more.length === 0 ? only : undefined);
}
