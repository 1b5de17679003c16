import { isAbsolute, join } from 'node:path';
import type { Config } from '../config/resolved.ts';
import { UsageError } from '../core/material/errors.ts';
import { parseCardTemplate, parseSheetTemplate } from '../formats/sheet/parse-template.ts';
import type { CardTemplate, SheetTemplate } from '../formats/sheet/template.ts';
import { templatesFolder } from './assets.ts';
import { readNamedText } from './read-text.ts';

/** The templates of sheets and repeat cards: the pipeline's own sheet template by path, or one that comes with gemel by name. */
export async function loadTemplates({ sheetTemplate, paper }: Config): Promise<{ readonly sheet: SheetTemplate; readonly card: CardTemplate }> {
  const sheetPath = isAbsolute(sheetTemplate) ? sheetTemplate : join(templatesFolder(), `${sheetTemplate}.yaml`);
  const cardPath = join(templatesFolder(), 'repeat-card.yaml');
  const sheet = parseSheetTemplate(await readTemplate(sheetPath), sheetPath);
  const card = parseCardTemplate(await readTemplate(cardPath), cardPath);
  return { sheet: { ...sheet, paper: paper ?? sheet.paper }, card: { ...card, paper: paper ?? card.paper } };
}

async function readTemplate(path: string): Promise<string> {
  try {
    return await readNamedText(path, 'the sheet template');
  } catch {
    throw new UsageError([`the sheet template ${path} is not there; give the name of one in templates/, or the full path of your own`]);
  }
}
