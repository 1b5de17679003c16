import { readFileSync } from 'node:fs';
import { PdfSheetPrinter } from '../src/adapters/pdf/sheet-printer.ts';
import { parseDefaultPipeline } from '../src/config/parse-pipeline.ts';
import { stillKey } from '../src/formats/sheet/content.ts';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../src/formats/sheet/template.ts';
import { checkDay } from '../src/steps/check/check-day.ts';
import { groupDay } from '../src/steps/group/group-day.ts';
import { matchDay } from '../src/steps/match/match-day.ts';
import { planSheets } from '../src/steps/sheet/plan-sheets.ts';
import { inventDay } from './invented-day.ts';

/** What sheets cost without decoding. `firstMs` opens the fonts and meets cold code; the others are the mean of the rest. */
export interface SheetFigures {
  readonly sheets: number;
  readonly frames: number;
  readonly firstMs: number;
  readonly planMs: number;
  readonly eachMs: number;
  /** Processor time of the thread that prints; other work on the machine lengthens it far less than the clock's. */
  readonly eachCpuMs: number;
  readonly kilobytes: number;
  readonly peakMb: number;
}

/** A still of the size a decoder gives: a JPEG of one pixel, followed by as many bytes as a small picture has. */
function invented(): Uint8Array {
  const onePixel = Buffer.from(
    '/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAgGBgcGBQgHBwcJCQgKDBQNDAsLDBkSEw8UHRofHh0aHBwgJC4nICIsIxwcKDcpLDAxNDQ0Hyc5PTgyPC4zNDL/wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAACf/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AVN//2Q==',
    'base64',
  );
  return Buffer.concat([onePixel, Buffer.alloc(20_000, 0x55)]);
}

/** Plans and prints the sheets of an invented day, stills given. */
export async function benchSheets(wanted = 100): Promise<SheetFigures> {
  const config = parseDefaultPipeline(readFileSync(new URL('../pipelines/default.yaml', import.meta.url), 'utf8'));
  const day = checkDay(matchDay(groupDay(inventDay(wanted * 8), config), config), config);
  const sets = day.sets.filter(({ matched }) => matched.matches.length > 0).slice(0, wanted);
  const start = performance.now();
  const plans = planSheets({ ...day, sets }, { show: 'Bench', template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE }).filter(({ content }) => content.kind === 'sheet');
  const planMs = performance.now() - start;
  const still = invented();
  const printer = new PdfSheetPrinter();
  const times: number[] = [];
  let bytes = 0;
  let cpu = process.threadCpuUsage();
  for (const plan of plans) {
    const before = performance.now();
    const pdf = await printer.print(plan.content, new Map(plan.stills.map((wantedStill) => [stillKey(wantedStill), still])));
    times.push(performance.now() - before);
    bytes += pdf.length;
    if (times.length === 1) cpu = process.threadCpuUsage();
  }
  const { user, system } = process.threadCpuUsage(cpu);
  const [firstMs = 0, ...others] = times;
  return {
    sheets: plans.length,
    frames: plans.reduce((sum, { stills }) => sum + stills.length, 0),
    firstMs,
    planMs,
    eachMs: others.reduce((sum, time) => sum + time, 0) / Math.max(1, others.length),
    eachCpuMs: (user + system) / 1000 / Math.max(1, others.length),
    kilobytes: bytes / 1024 / Math.max(1, plans.length),
    peakMb: process.resourceUsage().maxRSS / 1024,
  };
}
