import { parse as parseCsv } from 'csv-parse/sync';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { PdfSheetPrinter } from '../../src/adapters/pdf/sheet-printer.ts';
import { opticsSettings } from '../../src/core/checks/clip-optics.ts';
import type { JudgedDay } from '../../src/core/checks/judged.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import { formatBoard } from '../../src/formats/board/board.ts';
import { formatCardPage } from '../../src/formats/board/card-page.ts';
import { parseEdl } from '../../src/formats/edl/parse-edl.ts';
import { parseOtio } from '../../src/formats/otio/parse-otio.ts';
import { formatReport, reportOf } from '../../src/formats/report/report.ts';
import type { RepeatCardContent } from '../../src/formats/sheet/card-content.ts';
import { repeatCard } from '../../src/formats/sheet/repeat-card.ts';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../src/formats/sheet/template.ts';
import { formatClipFacts } from '../../src/formats/terminal/clip-facts.ts';
import { formatDayTable } from '../../src/formats/terminal/table.ts';
import { formatTurnoverTable } from '../../src/formats/terminal/turnover-table.ts';
import { visibleText } from '../../src/formats/terminal/visible-text.ts';
import { formatChanges, formatCountSheet } from '../../src/formats/turnover/count-sheet.ts';
import { formatPullCsv, formatPullEdl } from '../../src/formats/turnover/pull-list.ts';
import { formatShot } from '../../src/formats/turnover/shot-file.ts';
import { formatShotOtio } from '../../src/formats/turnover/shot-otio.ts';
import { judge } from '../../src/pipeline/run-day.ts';
import { readDay } from '../../src/steps/read/read-day.ts';
import { planSheets } from '../../src/steps/sheet/plan-sheets.ts';
import { safeFileNames } from '../../src/formats/sheet/safe-file-names.ts';
import type { TurnoverPlan } from '../../src/steps/turnover/plan-turnover.ts';
import { formatPlan, planTurnover } from '../../src/steps/turnover/plan-turnover.ts';
import { movie } from '../formats/media/build-movie.ts';
import { defaultConfig } from '../support/default-config.ts';
import { turnoverOptions } from '../support/make-turnover.ts';
import { MemoryStore, memoryPorts } from '../support/memory-ports.ts';
import { parsePage } from '../support/parse-page.ts';
import { PATIENCE_MS, runs, unsoundNumbers, weigh } from './fuzz.ts';

/** What somebody might write where a remark belongs, to be obeyed by whatever shows it. */
const EVIL = [
  '"><script>alert(1)</script>', '</script><img src=x onerror=alert(1)>', '--></style><b onclick=x>', '&lt;script&gt;&amp;', "' onmouseover='x", 'javascript:alert(1)', '<a href="http://a.example/">x</a>', '{{x}}${x}`x`',
  '\u001b[2J\u001b]0;owned\u0007', '\u009b31m\u0090', '\u202egnp.exe\u2066', '\u2028x\u2029', 'a\u0001b', '\ud800', '\ufeff\u200b', 'é\u0301🙂𠀀',
  '=HYPERLINK("http://a.example/")', '+1+cmd|x', '-2+3', '@SUM(A1)', '\t=1', '1;=2', '＝1',
  'x\r\n002  EVIL V C 00:00:00:00 00:00:01:00 00:00:00:00 00:00:01:00', '* FROM CLIP NAME: x', '../../../etc/passwd', 'C:\\con', '%{eif:n}%0', '(1) /URI (http://a.example/) >>', '__proto__', 'constructor', 'null',
];

const config = defaultConfig();
const cell = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const row = (...cells: readonly string[]): string => cells.map(cell).join(',');
const xml = (text: string): string => text.replace(/[<>&"']/g, (sign) => `&#${sign.charCodeAt(0)};`).replace(/[\p{Cc}\p{Cs}]/gu, '');

/** A day of two set-ups whose every free text is hostile: names of files and folders, log, shot list, move notes, sidecar, cut, pipeline. */
async function hostileDay(evil: string): Promise<{ readonly day: JudgedDay; readonly config: typeof config }> {
  // What no file can be called, and what a log cannot name, is taken out.
  const name = evil.replaceAll('/', '_').replace(/^\.+|[\0\r\\\uFEFF]|\p{Cs}/gu, '').trim().slice(0, 60);
  const passes = [['001', '27B', 1, 'lead', 0], ['002', '27B', 2, 'swapped', 8000], ['003', '27B', 3, 'clean', 16_000], ['004', '31C', 1, 'lead', 24_000], ['005', '31C', 2, 'clean', 32_000]] as const;
  const fileOf = (clip: string): string => `A003C${clip}_261125_R7QK ${name}.mov`;
  const clips = passes.map(([clip, , , , late]) => [
    `${name}/${fileOf(clip)}`, { bytes: movie({ timing: [[240, 1000]], timecode: { frame: 1_242_072 + late, base: 24, timescale: 24_000, frameTicks: 1000, reel: 'A003' } }) },
  ] as const);
  const log = ['File,Slate,Take,Pass,Circled,Lens,Lens Serial,Camera Height,Filters,White Balance,Notes,Date', ...passes.map(([clip, slate, take, pass]) => row(fileOf(clip), slate, String(take), pass, 'yes', `Plover ${evil}`, evil, pass === 'lead' ? '142 cm' : '150 cm', evil, evil, evil, evil))];
  const shots = ['Shot,Slate,Take,Vendor,Description,Cut In,Cut Out,Notes', row(`SMR ${evil}`, '27B', '1', 'Fenlight Post', evil, '14:22:33:20', '14:22:37:00', evil)];
  const marks = ['slate,take,pass,mark,tc,x,y,z,notes', row('27B', '1', 'lead', evil, '14:22:35:00', '1 m', '0', '1.4 m', evil), row('27B', '2', 'swapped', evil, evil, evil, '0', '1.4 m', evil)];
  const sidecar = `<?xml version="1.0"?><Clip><Lens>${xml(evil)}</Lens><Notes>${xml(evil)}</Notes><CameraModel>${xml(evil)}</CameraModel><ISO>${xml(evil)}</ISO></Clip>`;
  const files = {
    ...Object.fromEntries(clips), [`log ${name}.csv`]: { bytes: `${log.join('\n')}\n` }, 'shots.csv': { bytes: `${shots.join('\n')}\n` }, 'moves.csv': { bytes: `${marks.join('\n')}\n` },
    [`${name}/A003C001_261125_R7QK ${name}.xml`]: { bytes: sidecar }, 'broken.xml': { bytes: `<a>${evil}` }, 'broken.csv': { bytes: `Slate,${cell(evil)},Take\n27B,"${evil}\n` },
  };
  const hostile = {
    ...config, show: evil, vendor: evil, shotCodes: ['shot-list' as const],
    corrections: [{ kind: 'sync' as const, id: evil, lead: fileOf('001'), clip: fileOf('002'), offset: 4, who: evil, why: evil, from: `corrections.yaml, line 1 ${evil}` }],
  };
  const read = await readDay(memoryPorts(new MemoryStore(files)), { ...config, settleSeconds: 0 }, AbortSignal.timeout(60_000));
  return { day: judge(read, hostile), config: hostile };
}

/** Texts that would steer a terminal, hide, or turn the direction of writing. */
const STEERING = /[\p{Cc}\p{Cs}\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff]/u;

function assertPage(page: string, own: ReadonlySet<string>, scripts: number): readonly string[] {
  const { errors, elements } = parsePage(page);
  expect(errors).toEqual([]);
  expect(elements.filter(({ name }) => name === 'script')).toHaveLength(scripts);
  expect(elements.map(({ name }) => name).filter((name) => !own.has(name))).toEqual([]);
  for (const { attributes } of elements) {
    for (const [name, value] of Object.entries(attributes)) {
      expect(name).not.toMatch(/^on/);
      if (name === 'href' || name === 'src') expect(value).toMatch(/^(#|data:,$)/);
    }
  }
  expect(page.replaceAll('\n', '')).not.toMatch(STEERING);
  return elements.map(({ text }) => text);
}

/** Elements of pages on which nothing is hostile: no other may come up on any. */
let ownElements: ReadonlySet<string> = new Set();

function elementsOf(...pages: readonly string[]): ReadonlySet<string> {
  return new Set(pages.flatMap((page) => parsePage(page).elements.map(({ name }) => name)));
}

function cardsOf(day: JudgedDay, show: string): readonly RepeatCardContent[] {
  return day.sets.flatMap((judged) => repeatCard(judged, DEFAULT_CARD_TEMPLATE, { show, optics: opticsSettings(config) }) ?? []);
}

function assertCells(csv: string): void {
  const rows: readonly (readonly string[])[] = parseCsv(csv, { relaxColumnCount: true });
  for (const text of rows.flat()) expect(/^[+-]?\d+(\.\d+)?$/.test(text) || !/^[\s\0]*[=+\-@＝＋－＠]/u.test(text), text).toBe(true);
}

const INK = new RegExp(String.raw`${String.fromCharCode(27)}\[\d+(?:;\d+)*m`, 'g');

function assertTerminal(text: string): void {
  // Ink is the only thing that may stand there besides letters.
  expect(text.replaceAll(INK, '').replaceAll('\n', '')).not.toMatch(STEERING);
}

function plan(day: JudgedDay, show: string): TurnoverPlan {
  return planTurnover(day, turnoverOptions(day, { show, vendor: show, cuts: [], includeStopped: true, all: true, folderNames: safeFileNames }));
}

function assertPackage({ shots, turnover }: TurnoverPlan): void {
  assertCells(formatCountSheet(shots.map(({ file }) => file), turnover));
  assertCells(formatChanges(turnover));
  assertTerminal(formatTurnoverTable(turnover));
  for (const { file, folder } of shots) {
    expect(folder).not.toMatch(/[\s\\:*?"<>|/]|^\.|\p{Cc}/u);
    expect(unsoundNumbers(JSON.parse(formatShot(file)))).toEqual([]);
    assertCells(formatPullCsv(file, () => undefined));
    const list = formatPullEdl(file, () => ({ base: 24, drop: false }));
    if (list !== undefined) expect(parseEdl(list, { file: 'pull.edl', rate: frameRate(24) }).events.length).toBe(file.passes.filter(({ source }) => source !== null).length);
    expect(parseOtio(formatShotOtio(file, frameRate(24), () => 0), { file: 'shot.otio' }).problems).toEqual([]);
  }
}

async function assertHarmless(evil: string): Promise<void> {
  const { day, config: hostile } = await hostileDay(evil);
  const report = formatReport(reportOf(day));
  expect(unsoundNumbers(JSON.parse(report))).toEqual([]);
  const shown = assertPage(formatBoard(day, { show: evil, stills: new Map(), optics: opticsSettings(config) }), ownElements, 1).join(' ');
  if (evil.trim() !== '') expect(shown.replaceAll(/\s+/g, ' ')).toContain(visibleText(evil).replaceAll(/\s+/g, ' ').trim());
  for (const colour of [true, false]) {
    assertTerminal(formatDayTable(day, { width: 100, colour }));
    for (const clip of day.clips) assertTerminal(formatClipFacts(clip, { width: 100, colour }));
  }
  const pages = planSheets(day, { show: evil, template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE, optics: opticsSettings(hostile) });
  expect(pages.some(({ file }) => file.startsWith('repeat-cards/'))).toBe(true);
  for (const { file, content } of pages) {
    expect(file).toMatch(/^(sheets|repeat-cards)\/[\p{L}\p{M}\p{N}_-][\p{L}\p{M}\p{N}._-]*\.pdf$/u);
    expect(weigh(content)).toBeLessThan(200_000);
  }
  for (const card of cardsOf(day, evil)) assertPage(formatCardPage(card), ownElements, 0);
  const turnover = plan(day, evil);
  JSON.parse(formatPlan(turnover));
  assertPackage(turnover);
}

describe('a day whose every text is hostile', () => {
  let known: Awaited<ReturnType<typeof hostileDay>>;
  beforeAll(async () => {
    known = await hostileDay(EVIL.slice(0, 5).join(' '));
    const { day } = await hostileDay('plain words');
    ownElements = elementsOf(formatBoard(day, { show: 'x', stills: new Map(), optics: opticsSettings(config) }), ...cardsOf(day, 'x').map(formatCardPage));
  });

  it('is judged like any other: sets, a verdict each, and a shot to turn over', () => {
    expect(known.day.sets.map(({ matched, verdict }) => [matched.set.slate, verdict])).toEqual([['27B', expect.stringMatching(/no|look/)], ['31C', 'no']]);
    expect(plan(known.day, 'x').shots).toHaveLength(1);
  });

  it.each(EVIL)('holds %j as text in report, board, cards, terminal, sheets, lists and timelines', assertHarmless);

  it('holds any mixture of them as text', async () => {
    const mixture = fc.array(fc.oneof(fc.constantFrom(...EVIL), fc.string({ unit: 'binary', maxLength: 12 })), { minLength: 1, maxLength: 4 }).map((parts) => parts.join(' ').replaceAll('\0', '\u0001').slice(0, 200));
    await fc.assert(fc.asyncProperty(mixture, assertHarmless), runs(6));
  }, PATIENCE_MS);

  it.each(['clean ', 'for 27B ', ' (', '"', '\n', '🙂'])('is done in good time when each text says %j for 60,000 letters', async (piece) => {
    const before = process.cpuUsage();
    const evil = piece.repeat(60_000 / piece.length);
    const { day } = await hostileDay(evil);
    const parts = [formatReport(reportOf(day)), formatBoard(day, { show: evil, stills: new Map() }), formatDayTable(day, { width: 100, colour: false }), formatPlan(plan(day, evil))];
    for (const { file, content } of planSheets(day, { show: evil, template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE })) parts.push(file, JSON.stringify(content));
    expect(process.cpuUsage(before).user / 1e6, `seconds for ${parts.join('').length} letters`).toBeLessThan(8);
  }, PATIENCE_MS);

  it('prints without links, actions, scripts or files in its pages (ISO 32000-1, 12.6 and 7.11)', async () => {
    const pages = planSheets(known.day, { show: EVIL.join(' '), template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE });
    const printer = new PdfSheetPrinter();
    for (const { content } of pages) {
      const pdf = Buffer.from(await printer.print(content, new Map())).toString('latin1');
      // Texts of the document's own facts may hold any words; what counts is keys of dictionaries.
      const dictionaries = pdf.replaceAll(/stream\r?\n[^]*?endstream/g, '').replaceAll(/\((?:[^\\()]|\\[^])*\)/g, '()');
      expect(/\/(?:URI|JavaScript|JS|Launch|OpenAction|AA|EmbeddedFile|SubmitForm|GoToR|Annots?|Link)\b.{0,60}/.exec(dictionaries)?.[0]).toBeUndefined();
    }
  });
});
