import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import { nominalBase, rateFromText } from '../../core/timecode/rate.ts';
import { formatTimecode, framesPerDay, parseLabel } from '../../core/timecode/timecode.ts';
import { labelAt, roleName } from '../sheet/clip-words.ts';
import type { Block, Section, SheetContent } from '../sheet/content.ts';
import { fingerprint } from '../sheet/fingerprint.ts';
import { layerBlocks } from '../sheet/shot-section.ts';
import { sheetContents } from '../sheet/sheet-contents.ts';
import type { SheetTemplate } from '../sheet/template.ts';
import { runWords } from './pull-list.ts';
import type { ShotFile, ShotPass } from './shot-file.ts';
import { shotVerdict, VERDICT_WORDS } from './shot-verdict.ts';

/** The set as one shot sees it: its range, its lead, the passes matched to that. */
export function narrowToShot(judged: JudgedSet, needed: NeededRange, clips: readonly Clip[]): JudgedSet {
  const ids = new Set(clips.map(({ id }) => id));
  const of = ({ lead, shot, from }: NeededRange): boolean => lead === needed.lead && shot === needed.shot && from === needed.from;
  return {
    ...judged,
    matched: {
      ...judged.matched,
      set: { ...judged.matched.set, clips },
      matches: judged.matched.matches.filter(({ lead }) => lead === needed.lead),
      proposed: judged.matched.proposed.filter(({ lead }) => lead === needed.lead),
      leftOver: [],
    },
    findings: judged.findings.filter(({ subject }) => subject.every((id) => ids.has(id))),
    countingLeads: [needed.lead],
    needed: [needed],
    coverage: judged.coverage.filter((cover) => of(cover.needed)),
    shots: judged.shots.filter(({ shot }) => shot === needed.shot),
  };
}

/** The sheet of one shot of a turnover: that of its set, narrowed to it, with its revision, its change and its frame numbers in front. */
export function shotSheet(judged: JudgedSet, shot: ShotFile, template: SheetTemplate): SheetContent {
  // What the section of the shot says stands in front, with what is delivered.
  const base = sheetContents(judged, { ...template, sections: template.sections.filter((name) => name !== 'shot') }, { show: shot.show });
  const inCut = judged.shots.find((row) => row.inCut !== undefined && judged.countingLeads.includes(row.inCut.lead))?.inCut;
  const facts = [
    { label: 'Shot', value: shot.shot },
    { label: 'Change', value: shot.change.kinds.join(', ') },
    { label: 'Slate', value: `${shot.slate}${shot.camera === '' ? '' : `, camera ${shot.camera}`}` },
    ...base.heading.facts.filter(({ label }) => label !== 'Revision' && label !== 'Shots' && label !== 'Vendor'),
    ...(shot.vendor === null ? [] : [{ label: 'Vendor', value: shot.vendor }]),
  ];
  const sections: readonly Section[] = [
    { heading: 'Turnover', blocks: [...turnoverBlocks(shot), ...(inCut === undefined ? [] : layerBlocks(inCut, judged.matched.set.clips))] },
    { heading: 'Frame numbers', blocks: [numbersTable(shot, judged.matched.set.clips)] },
    ...base.sections,
  ];
  const revision = `${shot.revision} (${fingerprint(JSON.stringify([facts, sections]))})`;
  return {
    ...base,
    heading: { ...base.heading, verdict: verdictOf(shot), name: shot.shot, beside: shot.slate, facts: [...facts, { label: 'Revision', value: revision }] },
    sections,
    footer: { ...base.footer, left: `${shot.show === '' ? '' : `${shot.show} · `}${shot.shot} · revision ${revision}` },
  };
}

/** Whether a vendor can work by these plates. */
function verdictOf(shot: ShotFile): SheetContent['heading']['verdict'] {
  const { verdict, stops, warnings } = shotVerdict(shot);
  const reasons = {
    no: `${stops} ${stops === 1 ? 'finding stops' : 'findings stop'} it: see Findings.`,
    look: `${warnings} ${warnings === 1 ? 'finding asks' : 'findings ask'} for a look: see Findings.`,
    yes: 'Every pass the method needs holds the range.',
  };
  return { verdict, question: 'Plates for this shot', answer: VERDICT_WORDS[verdict], reason: reasons[verdict] };
}

function turnoverBlocks(shot: ShotFile): readonly Block[] {
  const { record, cdl } = shot;
  const facts = [
    { label: 'Change', value: shot.change.words.join(' ') },
    { label: 'Frames', value: `${runWords(shot.numbers.first, shot.numbers.last)}, the cut ${runWords(shot.cut.first, shot.cut.last)}, handles ${shot.handles.head} + ${shot.handles.tail}` },
    ...(record === null ? [] : [{ label: 'In the cut', value: `${record.in} – ${lastLabel(record)} (last frame, in)` }]),
    ...(shot.retime === null ? [] : [{ label: 'Retime', value: shot.retime }]),
    ...(cdl === null ? [] : [{ label: 'ASC CDL', value: `slope ${cdl.slope.join(' ')}, offset ${cdl.offset.join(' ')}, power ${cdl.power.join(' ')}, saturation ${cdl.saturation} (${cdl.from}); applied to nothing` }]),
    ...shot.passes.map((pass) => ({ label: roleName(pass.role), value: deliveredWords(pass) })),
  ];
  return [{ kind: 'facts', facts: facts.filter(({ value }) => value !== '') }];
}

/** The label of the last frame, which is in: people count so, while `out` is the frame after it. */
function lastLabel({ out, rate }: NonNullable<ShotFile['record']>): string {
  const counted = rate === null ? undefined : rateFromText(rate);
  if (counted === undefined) return out;
  const format = { base: nominalBase(counted), drop: out.includes(';') };
  const frame = parseLabel(out, format).frame - 1;
  return formatTimecode({ frame: frame < 0 ? framesPerDay(format) - 1 : frame, format });
}

function deliveredWords({ pictures, movie, numbers, missing, notDelivered, retime, lies }: ShotPass): string {
  const parts = [
    numbers === null ? 'nothing to pull' : `frames ${runWords(numbers.first, numbers.last)}${lies === 'in sync' ? '' : `, ${lies}`}`,
    missing.length === 0 ? '' : `missing ${missing.map(({ first, last, part }) => `${runWords(first, last)} (${part})`).join(', ')}`,
    pictures === null ? '' : `${pictures.count} ${pictures.format.toUpperCase()} files, ${pictures.bits}`,
    pictures === null ? '' : pictures.colour,
    movie === null ? '' : 'reference movie with burn-in',
    retime === null ? '' : `retimed: ${retime}`,
    notDelivered ?? (pictures === null ? 'pull list only' : ''),
  ];
  return parts.filter((part) => part !== '').join('; ');
}

const STEPS = [1, 2, 4, 12, 24, 48, 120, 240, 480, 1440];
const MOST_ROWS = 20;

/** Which timecode and which frame of each pass a number stands for: the ends of pull and cut, and whole steps between. */
function numbersTable(shot: ShotFile, clips: readonly Clip[]): Block {
  const passes = shot.passes.filter(({ lies }) => lies !== 'beside');
  const length = shot.numbers.last - shot.numbers.first + 1;
  const step = STEPS.find((frames) => length / frames <= MOST_ROWS) ?? Math.ceil(length / MOST_ROWS);
  const marks = new Map([[shot.numbers.first, 'first'], [shot.numbers.last, 'last'], [shot.cut.first, 'cut in'], [shot.cut.last, 'cut last']]);
  const wanted = new Set(marks.keys());
  for (let number = Math.ceil(shot.numbers.first / step) * step; number <= shot.numbers.last; number += step) wanted.add(number);
  return {
    kind: 'table',
    caption: `Frames are counted from each clip’s first, which is 0. The same number is the same moment on every pass${passes.some(({ lies }) => lies === 'held') ? '; of a held pass any frame serves, and numbers only name its files' : ''}.`,
    columns: [{ heading: 'Number', share: 0.9 }, ...passes.map(({ role, lies }) => ({ heading: `${roleName(role)}${lies === 'held' ? ', held' : ''}`, share: 1.6 }))],
    rows: [...wanted].toSorted((a, b) => a - b).map((number) => [
      { text: String(number), tone: marks.has(number) ? 'strong' as const : 'plain' as const, note: marks.get(number) ?? '' },
      ...passes.map((pass) => ({ text: atNumber(pass, number, clips.find(({ id }) => id === pass.clip)) })),
    ]),
  };
}

function atNumber({ numbers, source, lies }: ShotPass, number: number, clip: Clip | undefined): string {
  if (numbers === null || source === null) return 'not there';
  if (number < numbers.first || number > numbers.last) return lies === 'held' ? 'any of its frames' : 'not there';
  const frame = source.first + number - numbers.first;
  const label = clip === undefined ? undefined : labelAt(clip, frame);
  return `${label === undefined ? '' : `${label} · `}frame ${frame}`;
}
