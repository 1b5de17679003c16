import type { Verdict } from '../../core/checks/judged.ts';
import type { ClipId, Role } from '../../core/material/clip.ts';
import type { Severity } from '../../core/material/finding.ts';
import type { FrameRange } from '../../core/timecode/range.ts';

export type Paper = 'A4' | 'Letter';

/** A printed sheet before anything is drawn: what stands on it, in order. Whoever draws it decides where, never what. */
export interface SheetContent {
  readonly kind: 'sheet';
  readonly paper: Paper;
  /** `#rrggbb`; nothing rests on it alone, so that a sheet prints in black and white. */
  readonly accent: string;
  readonly heading: SheetHeading;
  readonly sections: readonly Section[];
  readonly footer: Footer;
}

/** The top of the first page. */
export interface SheetHeading {
  /** "Plate sheet" */
  readonly title: string;
  readonly show: string;
  /** "27B" */
  readonly name: string;
  /** "camera A" */
  readonly beside: string;
  readonly facts: readonly Fact[];
  readonly verdict: VerdictWords;
}

/** The verdict as it is read at arm's length: "CLEAR TO STRIKE", "NO", and why. */
export interface VerdictWords {
  readonly verdict: Verdict;
  readonly question: string;
  readonly answer: string;
  readonly reason: string;
}

/** The foot of every page; page numbers are added where pages are known. */
export interface Footer {
  readonly left: string;
  readonly caution: string;
}

export interface Section {
  readonly heading: string;
  readonly blocks: readonly Block[];
}

export type Block =
  | { readonly kind: 'text'; readonly text: string; readonly tone?: Tone }
  | { readonly kind: 'facts'; readonly facts: readonly Fact[] }
  | ({ readonly kind: 'table' } & Table)
  | { readonly kind: 'coverage'; readonly drawing: CoverageDrawing }
  | { readonly kind: 'curves'; readonly plot: CurvePlot }
  | { readonly kind: 'pictures'; readonly caption: string; readonly rows: readonly PictureRow[] }
  | { readonly kind: 'findings'; readonly findings: readonly FindingWords[] }
  | { readonly kind: 'sign-off'; readonly signatures: readonly string[]; readonly fields: readonly string[] };

/** How loud a piece of text is. */
export type Tone = 'plain' | 'strong' | 'faint';

export interface Fact {
  readonly label: string;
  readonly value: string;
}

export interface Table {
  readonly caption?: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
}

/** `share` is the column's part of the width, beside those of the others. */
export interface Column {
  readonly heading: string;
  readonly share: number;
  readonly align?: 'left' | 'right';
}

/** `note` stands small under the text; `differs` marks it by a sign, not by colour alone. */
export interface Cell {
  readonly text: string;
  readonly tone?: Tone;
  readonly note?: string;
  readonly differs?: boolean;
}

/** A to-scale drawing of one needed range; every number is in frames of the lead, counted from its first, ends exclusive. */
export interface CoverageDrawing {
  readonly title: string;
  readonly from: string;
  /** What the axis shows, left edge to right edge. */
  readonly span: FrameRange;
  readonly cut: FrameRange;
  /** Cut range and handles. */
  readonly pull: FrameRange;
  readonly ticks: readonly Tick[];
  readonly bars: readonly CoverageBar[];
}

/** A mark on the axis: the frame, and its timecode label when the lead has one. */
export interface Tick {
  readonly frame: number;
  readonly label: string;
  readonly timecode: string;
}

/** One pass on the drawing. `missing` are frames of the pull range that it lacks, holes among them. */
export interface CoverageBar {
  readonly role: Role;
  readonly label: string;
  readonly clip: string;
  readonly available: FrameRange;
  readonly missing: readonly { readonly range: FrameRange; readonly part: 'cut' | 'handle' }[];
  /** "tail lacks 13 of the cut", or "holds the range". */
  readonly words: string;
}

/** Values of two passes over the frames of the lead, one panel under another; frames are counted from the lead's first. */
export interface CurvePlot {
  readonly title: string;
  readonly span: FrameRange;
  readonly ticks: readonly Tick[];
  readonly panels: readonly CurvePanel[];
}

/** One panel: its axis with unit, its lines, and where a limit and the worst of it lie. `words` say it to those who do not see it. */
export interface CurvePanel {
  /** "focal length, mm" */
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly steps: readonly { readonly value: number; readonly label: string }[];
  readonly lines: readonly CurveLine[];
  readonly limit?: { readonly value: number; readonly label: string };
  readonly worst?: { readonly frame: number; readonly value: number; readonly label: string };
  readonly words: string;
}

/** Told apart by how it is drawn, never by colour. Rings, crosses and discs are single points between which nothing is known. */
export interface CurveLine {
  readonly name: string;
  readonly look: 'solid' | 'dashed' | 'dotted' | 'ring' | 'cross' | 'disc';
  /** Parts without a hole between them. */
  readonly parts: readonly (readonly CurveDot[])[];
}

export interface CurveDot {
  readonly frame: number;
  readonly value: number;
}

/** A still to decode: a frame of a clip, counted from the clip's first. */
export interface PlannedStill {
  readonly clip: ClipId;
  readonly frame: number;
}

/** One pass in pictures. */
export interface PictureRow {
  readonly label: string;
  readonly note: string;
  readonly pictures: readonly Picture[];
}

/**
 * One picture: `caption` says which frame, `remark` (often empty) what must be known of it. `still` is undefined when nothing can
 * be decoded; `instead` stands in an empty box, whatever the reason.
 */
export interface Picture {
  readonly heading: string;
  readonly still: PlannedStill | undefined;
  readonly caption: string;
  readonly remark: string;
  readonly instead: string;
}

/** A finding in words, with its clips by short name. */
export interface FindingWords {
  readonly severity: Severity;
  readonly code: string;
  readonly measured: string;
  readonly clips: string;
  readonly consequence: string;
  readonly remedy: string;
  readonly evidence: string;
}

/** One still's name among others: the clip and the frame. */
export function stillKey({ clip, frame }: PlannedStill): string {
  return `${frame} ${clip}`;
}
