import type { OpticsSettings } from '../../core/checks/clip-optics.ts';
import type { JudgedDay, JudgedSet } from '../../core/checks/judged.ts';
import type { PlannedStill, SheetContent } from '../../formats/sheet/content.ts';
import type { RepeatCardContent } from '../../formats/sheet/card-content.ts';
import { repeatCard } from '../../formats/sheet/repeat-card.ts';
import { sheetContents } from '../../formats/sheet/sheet-contents.ts';
import { plannedStills } from '../../formats/sheet/stills.ts';
import type { CardTemplate, SheetTemplate } from '../../formats/sheet/template.ts';
import { compareText } from '../../formats/report/order.ts';
import { safeFileNames } from './safe-file-names.ts';

/** What the pages of a day are made with. */
export interface SheetOptions {
  readonly show: string;
  readonly template: SheetTemplate;
  readonly cardTemplate: CardTemplate;
  /** What the ± of a card rest on; without it a card has none. */
  readonly optics?: OpticsSettings;
}

/** One PDF to make: its name below the output folder, what stands on it, and the stills it shows. */
export interface SheetPlan {
  readonly file: string;
  readonly setId: string;
  readonly content: SheetContent | RepeatCardContent;
  readonly stills: readonly PlannedStill[];
}

/** A sheet for every plate set, and a repeat card for each that still lacks a pass, sorted by set. File names are safe on every system, and no two are alike. */
export function planSheets(day: JudgedDay, options: SheetOptions): readonly SheetPlan[] {
  const sets = day.sets.toSorted((a, b) => compareText(idOf(a), idOf(b)));
  const names = safeFileNames(sets.map(idOf));
  return sets.flatMap((judged, index) => planSet(judged, names[index] ?? String(index), options));
}

function planSet(judged: JudgedSet, name: string, { show, template, cardTemplate, optics }: SheetOptions): readonly SheetPlan[] {
  const stills = template.sections.includes('pictures') ? plannedStills(judged) : [];
  const sheet: SheetPlan = { file: `sheets/${name}.pdf`, setId: idOf(judged), content: sheetContents(judged, template, { show }), stills };
  const card = repeatCard(judged, cardTemplate, { show, ...(optics === undefined ? {} : { optics }) });
  return card === undefined ? [sheet] : [sheet, { file: `repeat-cards/${name}.pdf`, setId: idOf(judged), content: card, stills: [] }];
}

function idOf({ matched }: JudgedSet): string {
  return matched.set.id;
}
