import { formatCardPage } from '../../formats/board/card-page.ts';
import type { SheetPlan } from './plan-sheets.ts';

/** The page for the phone of each planned repeat card: its file, beside the PDF, and its HTML. */
export function cardPages(plans: readonly SheetPlan[]): readonly { readonly file: string; readonly page: string }[] {
  return plans.flatMap(({ file, content }) => (content.kind === 'repeat-card' ? [{ file: file.replace(/\.pdf$/, '.html'), page: formatCardPage(content) }] : []));
}
