import type { ColourDecision } from '../../core/material/cut.ts';

/** What the comments below an event say of it. */
export interface EventNotes {
  readonly fromClip?: string;
  readonly toClip?: string;
  readonly sourceFile?: string;
  /** Markers, their times as written (record timecode). */
  readonly locators: readonly { readonly line: number; readonly time: string; readonly text: string }[];
  readonly cdl?: ColourDecision;
  readonly freeze: boolean;
  readonly comments: readonly string[];
  /** Lines that say something known in a way that cannot be read. */
  readonly faults: readonly { readonly line: number; readonly found: string; readonly expected: string }[];
}

export interface NoteLine {
  readonly line: number;
  readonly text: string;
}

const NUMBER = String.raw`([+-]?\d{1,6}(?:\.\d{1,12})?)`;
const TRIPLE = String.raw`\(\s*${NUMBER}[\s,]+${NUMBER}[\s,]+${NUMBER}\s*\)`;
const SOP = new RegExp(String.raw`^ASC_SOP\s*:?\s*${TRIPLE}\s*${TRIPLE}\s*${TRIPLE}\s*$`, 'iu');
const SAT = new RegExp(String.raw`^ASC_SAT\s*:?\s*${NUMBER}\s*$`, 'iu');
const LOCATOR = /^LOC\s*:?\s*(\S+)(.*)$/isu;
const COLOURS = /^(?:RED|GREEN|BLUE|CYAN|MAGENTA|YELLOW|BLACK|WHITE|PINK|ORANGE|PURPLE)(?:\s+|$)/iu;

/** Reads the notes of one event; what is not known stays a comment. `file` names the list, for the colour decision. */
export function readNotes(lines: readonly NoteLine[], file: string): EventNotes {
  const said: { fromClip?: string; toClip?: string; sourceFile?: string } = {};
  const locators: { line: number; time: string; text: string }[] = [];
  const comments: string[] = [];
  const faults: { line: number; found: string; expected: string }[] = [];
  const colour: { line?: number; sop?: readonly number[]; saturation?: number } = {};
  let freeze = false;
  for (const { line, text } of lines) {
    const words = stripStars(text);
    const named = /^(FROM CLIP NAME|TO CLIP NAME|FROM CLIP|FROM FILE|SOURCE FILE)\s*:(.*)$/isu.exec(words);
    const value = named?.[2]?.trim() ?? '';
    if (named !== null) {
      if (value === '') continue;
      const key = (named[1] ?? '').toUpperCase();
      if (key === 'FROM CLIP NAME') said.fromClip ??= value;
      else if (key === 'TO CLIP NAME') said.toClip ??= value;
      else said.sourceFile ??= value.replaceAll('\\', '/');
    } else if (/^LOC\b/iu.test(words)) {
      const [, time = '', rest = ''] = LOCATOR.exec(words) ?? [];
      if (/^\d/u.test(time)) locators.push({ line, time, text: rest.trimStart().replace(COLOURS, '').trim() });
      else faults.push({ line, found: `"${clipped(words)}"`, expected: 'LOC: timecode colour text' });
    } else if (/^ASC_S(?:OP|AT)\b/iu.test(words)) {
      readColour(words, line, colour, faults);
    } else if (words !== '') {
      freeze ||= /^FREEZE FRAME\b/iu.test(words);
      comments.push(words);
    }
  }
  const cdl = decision(colour, file);
  return { ...said, locators, ...(cdl === undefined ? {} : { cdl }), freeze, comments, faults };
}

/** A comment without the stars it begins with. */
export function stripStars(text: string): string {
  return text.replace(/^[\s*]+/u, '').trimEnd();
}

/** A line as it is quoted in a problem. */
export function clipped(text: string): string {
  const plain = text.trim();
  return plain.length > 120 ? `${plain.slice(0, 119)}…` : plain;
}

function readColour(
  words: string, line: number, colour: { line?: number; sop?: readonly number[]; saturation?: number },
  faults: { line: number; found: string; expected: string }[],
): void {
  const sop = SOP.exec(words);
  const sat = SAT.exec(words);
  colour.line ??= line;
  if (sop !== null) colour.sop = sop.slice(1).map(Number);
  else if (sat !== null) colour.saturation = Number(sat[1]);
  else faults.push({ line, found: `"${clipped(words)}"`, expected: 'ASC_SOP (slope) (offset) (power), three numbers each, or ASC_SAT and one number' });
}

/** Slope, offset and power absent stand at their neutral values, as ASC CDL has them: 1, 0, 1 and a saturation of 1. */
function decision({ line, sop, saturation }: { line?: number; sop?: readonly number[]; saturation?: number }, file: string): ColourDecision | undefined {
  if (line === undefined || (sop === undefined && saturation === undefined)) return undefined;
  const triple = (at: number, neutral: number): readonly [number, number, number] => [sop?.[at] ?? neutral, sop?.[at + 1] ?? neutral, sop?.[at + 2] ?? neutral];
  return { slope: triple(0, 1), offset: triple(3, 0), power: triple(6, 1), saturation: saturation ?? 1, from: `${file} line ${line}` };
}
