import { describe, expect, it } from 'vitest';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { cardPages } from '../../../src/steps/sheet/card-pages.ts';
import { planSheets } from '../../../src/steps/sheet/plan-sheets.ts';
import { makeJudgedDay } from '../../support/make-judged.ts';
import { defaultOptics } from '../../support/optics-settings.ts';

describe('the pages of a day of cards', () => {
  it('lie beside the PDFs of the cards, one for each, with the ± of the pipeline', () => {
    const plans = planSheets(makeJudgedDay(), { show: 'Tidewrack', template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE, optics: defaultOptics() });
    const pages = cardPages(plans);
    expect(pages.map(({ file }) => file)).toEqual(plans.map(({ file }) => file).filter((file) => file.startsWith('repeat-cards/')).map((file) => file.replace('.pdf', '.html')));
    expect(pages.map(({ file }) => file)).toEqual(['repeat-cards/50C-A.html']);
    expect(pages[0]?.page).toContain('± 0.5 mm');
  });
});
