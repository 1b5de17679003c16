import type { OpticsSettings } from '../../core/checks/clip-optics.ts';
import type { JudgedDay, JudgedSet } from '../../core/checks/judged.ts';
import type { PlannedStill, SheetContent } from '../../formats/sheet/content.ts';
import type { RepeatCardContent } from '../../formats/sheet/card-content.ts';
import { repeatCard } from '../../formats/sheet/repeat-card.ts';
import { sheetContents } from '../../formats/sheet/sheet-contents.ts';
import { shotsOfSet } from '../../formats/sheet/shot-sheet.ts';
import { drawnStills } from '../../formats/sheet/picture-study.ts';
import { plannedStills } from '../../formats/sheet/stills.ts';
import type { CardTemplate, SheetTemplate } from '../../formats/sheet/template.ts';
import { compareText } from '../../formats/report/order.ts';
import { safeFileNames } from '../../formats/sheet/safe-file-names.ts';

/** What the pages of a day are made with. */
export interface SheetOptions {
  readonly show: string;
  readonly template: SheetTemplate;
  readonly cardTemplate: CardTemplate;
  /** What the ± of a card rest on; without it a card has none. */
  readonly optics?: OpticsSettings;
  /** Number of the first frame of a shot, its head handle included; 1001 without one. */
  readonly firstFrame?: number;
}

/** One PDF to make: its name below the output folder, what stands on it, and the stills it shows. */
export interface SheetPlan {
  readonly file: string;
  readonly setId: string;
  readonly content: SheetContent | RepeatCardContent;
  readonly stills: readonly PlannedStill[];
}

/** A sheet for every shot where a cut or a shot list names some, else for the plate set, and a repeat card for each that still lacks a pass, sorted by set. File names are safe on every system, and no two are alike. */
export function planSheets(day: JudgedDay, options: SheetOptions): readonly SheetPlan[] {
  const sets = day.sets.toSorted((a, b) => compareText(idOf(a), idOf(b)));
  const cardNames = safeFileNames(sets.map(idOf));
  const sheets = sets.map(sheetsOf);
  const sheetNames = safeFileNames(sheets.flat().map(({ name }) => name)).values();
  return sets.flatMap((judged, index) => {
    const planned = (sheets[index] ?? []).map((sheet) => planSheet(sheet, sheetNames.next().value ?? sheet.name, options));
    return [...planned, ...planCard(judged, cardNames[index] ?? String(index), options)];
  });
}

interface PlannedSheet {
  readonly name: string;
  readonly judged: JudgedSet;
  readonly shot?: string;
}

function sheetsOf(judged: JudgedSet): readonly PlannedSheet[] {
  const shots = shotsOfSet(judged);
  return shots.length === 0 ? [{ name: idOf(judged), judged }] : shots.map(({ shot, judged: narrowed }) => ({ name: shot, judged: narrowed, shot }));
}

function planSheet({ judged, shot }: PlannedSheet, name: string, { show, template, firstFrame }: SheetOptions): SheetPlan {
  const stills = [...(template.sections.includes('pictures') ? plannedStills(judged) : []), ...(template.sections.includes('measured') ? drawnStills(judged) : [])];
  const context = { show, ...(shot === undefined ? {} : { shot }), ...(firstFrame === undefined ? {} : { firstFrame }) };
  return { file: `sheets/${name}.pdf`, setId: idOf(judged), content: sheetContents(judged, template, context), stills };
}

function planCard(judged: JudgedSet, name: string, { show, cardTemplate, optics }: SheetOptions): readonly SheetPlan[] {
  const card = repeatCard(judged, cardTemplate, { show, ...(optics === undefined ? {} : { optics }) });
  return card === undefined ? [] : [{ file: `repeat-cards/${name}.pdf`, setId: idOf(judged), content: card, stills: [] }];
}

function idOf({ matched }: JudgedSet): string {
  return matched.set.id;
}
