import PDFDocument from 'pdfkit';
import type { Block, SheetContent } from '../../formats/sheet/content.ts';
import type { RepeatCardContent } from '../../formats/sheet/card-content.ts';
import type { SheetPrinter } from '../../ports.ts';
import { drawCard } from './draw-card.ts';
import { coverageHeight, drawCoverage } from './draw-coverage.ts';
import { curvesHeight, drawCurves } from './draw-curves.ts';
import { drawFindings, findingHeight } from './draw-findings.ts';
import { drawFooters } from './draw-footer.ts';
import { drawHeading, drawSectionHeading } from './draw-heading.ts';
import type { Stills } from './draw-pictures.ts';
import { drawPictures, firstPicturesHeight } from './draw-pictures.ts';
import { drawSignOff, signOffHeight } from './draw-sign-off.ts';
import { drawTable } from './draw-table.ts';
import type { FontLibrary } from './fonts.ts';
import { openFonts } from './fonts.ts';
import type { Tag } from './page-flow.ts';
import { PageFlow, STYLES } from './page-flow.ts';
import type { Pdf } from './typesetter.ts';
import { Typesetter } from './typesetter.ts';

/** A clock would give every printing other bytes, so every sheet claims the same moment; its revision tells versions apart. */
const NO_CLOCK = new Date(Date.UTC(2000, 0, 1));

/** Prints sheets and repeat cards with pdfkit. Fonts are opened once, at the first page. */
export class PdfSheetPrinter implements SheetPrinter {
  readonly #open: () => FontLibrary;
  #library: FontLibrary | undefined;

  constructor(open: () => FontLibrary = openFonts) {
    this.#open = open;
  }

  async print(content: SheetContent | RepeatCardContent, stills: Stills): Promise<Uint8Array> {
    this.#library ??= this.#open();
    return printPages(content, stills, this.#library);
  }
}

async function printPages(content: SheetContent | RepeatCardContent, stills: Stills, library: FontLibrary): Promise<Uint8Array> {
  const doc = newDocument(content);
  const whole = collect(doc);
  const flow = new PageFlow(doc, new Typesetter(doc, library), content.paper, content.accent);
  if (content.kind === 'sheet') drawSheet(flow, content, stills);
  else drawCard(flow, content);
  noteMissingLetters(flow);
  flow.root.end();
  drawFooters(flow, content.footer);
  doc.end();
  return whole;
}

function newDocument(content: SheetContent | RepeatCardContent): Pdf {
  const { title, show, name } = content.kind === 'sheet' ? content.heading : content;
  return new PDFDocument({
    autoFirstPage: false,
    // No default font: pdfkit would read its metrics for every document and never use them. Its types know only names.
    font: '',
    bufferPages: true,
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en',
    displayTitle: true,
    info: {
      Title: `${title} ${name}${show === '' ? '' : `, ${show}`}`,
      Subject: content.footer.left,
      Creator: 'gemel',
      CreationDate: NO_CLOCK,
      ModDate: NO_CLOCK,
    },
  }) as Pdf;
}

async function collect(doc: Pdf): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => chunks.push(chunk));
  await new Promise<void>((resolve, reject) => {
    doc.on('end', resolve);
    doc.on('error', reject);
  });
  return Buffer.concat(chunks);
}

function drawSheet(flow: PageFlow, { heading, sections }: SheetContent, stills: Stills): void {
  const outline = flow.doc.outline.addItem(`${heading.title} ${heading.name}`, { expanded: true });
  drawHeading(flow, heading);
  for (const section of sections) {
    const tag = flow.tag('Sect');
    drawSectionHeading(flow, section.heading, firstHeight(flow, section.blocks[0]), tag);
    outline.addItem(section.heading);
    for (const block of section.blocks) drawBlock(flow, block, stills, tag);
    tag.end();
  }
}

const A_FEW_LINES = 44;
const HEADINGS_AND_A_FEW_ROWS = 96;

function firstHeight(flow: PageFlow, block: Block | undefined): number {
  if (block?.kind === 'coverage') return Math.min(coverageHeight(flow, block.drawing), flow.pageHeight - 60);
  if (block?.kind === 'curves') return Math.min(curvesHeight(block.plot), flow.pageHeight - 60);
  if (block?.kind === 'pictures') return firstPicturesHeight(flow);
  if (block?.kind === 'sign-off') return signOffHeight(block.signatures);
  const finding = block?.kind === 'findings' ? block.findings[0] : undefined;
  if (finding !== undefined) return Math.max(A_FEW_LINES, findingHeight(flow, finding));
  return block?.kind === 'table' ? HEADINGS_AND_A_FEW_ROWS : A_FEW_LINES;
}

function drawBlock(flow: PageFlow, block: Block, stills: Stills, tag: Tag): void {
  switch (block.kind) {
    case 'text':
      flow.paragraph(block.text, block.tone === 'strong' ? STYLES.strong : block.tone === 'faint' ? STYLES.faint : STYLES.body, tag);
      flow.y += 3;
      return;
    case 'facts':
      return drawTable(flow, { columns: [{ heading: '', share: 1 }, { heading: '', share: 3.2 }], rows: block.facts.map(({ label, value }) => [{ text: label, tone: 'faint' }, { text: value }]) }, tag);
    case 'table': return drawTable(flow, block, tag);
    case 'coverage': return drawCoverage(flow, block.drawing, tag);
    case 'curves': return drawCurves(flow, block.plot, tag);
    case 'pictures': return drawPictures(flow, block.caption, block.rows, stills, tag);
    case 'findings': return drawFindings(flow, block.findings, tag);
    case 'sign-off': return drawSignOff(flow, block.signatures, block.fields, tag);
  }
  return block satisfies never;
}

/** A letter without a glyph is a box on the page; this says which letters they were. */
function noteMissingLetters(flow: PageFlow): void {
  const letters = flow.type.missingLetters;
  if (letters.length === 0) return;
  const names = letters.map((code) => `U+${code.toString(16).toUpperCase().padStart(4, '0')}`).join(' ');
  flow.y += 6;
  flow.paragraph(`▯ stands for a letter that no installed font has: ${names}. The report holds the text as it was read.`, STYLES.note);
}
