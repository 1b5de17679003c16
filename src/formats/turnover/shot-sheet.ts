import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import { labelAt, roleName } from '../sheet/clip-words.ts';
import type { Block, Section, SheetContent } from '../sheet/content.ts';
import { fingerprint } from '../sheet/fingerprint.ts';
import { sheetContents } from '../sheet/sheet-contents.ts';
import type { SheetTemplate } from '../sheet/template.ts';
import { runWords } from './pull-list.ts';
import type { ShotFile, ShotPass } from './shot-file.ts';

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
  const base = sheetContents(judged, template, { show: shot.show });
  const facts = [
    { label: 'Shot', value: shot.shot },
    { label: 'Turnover', value: `revision ${shot.revision}: ${shot.change.kinds.join(', ')}` },
    { label: 'Slate', value: `${shot.slate}${shot.camera === '' ? '' : `, camera ${shot.camera}`}` },
    ...base.heading.facts.filter(({ label }) => label !== 'Revision' && label !== 'Shots' && label !== 'Vendor'),
    ...(shot.vendor === null ? [] : [{ label: 'Vendor', value: shot.vendor }]),
  ];
  const sections: readonly Section[] = [
    { heading: 'Turnover', blocks: turnoverBlocks(shot) },
    { heading: 'Frame numbers', blocks: [numbersTable(shot, judged.matched.set.clips)] },
    ...base.sections,
  ];
  const printing = fingerprint(JSON.stringify([facts, sections]));
  return {
    ...base,
    heading: { ...base.heading, title: 'Shot sheet', verdict: verdictOf(shot), name: shot.shot, beside: shot.slate, facts: [...facts, { label: 'Printing', value: printing }] },
    sections,
    footer: { ...base.footer, left: `${shot.show === '' ? '' : `${shot.show} · `}${shot.shot} · revision ${shot.revision} · printing ${printing}` },
  };
}

/** Whether a vendor can work by these plates. */
function verdictOf({ findings }: ShotFile): SheetContent['heading']['verdict'] {
  const question = 'Plates for this shot';
  const count = (wanted: string): number => findings.filter(({ severity }) => severity === wanted).length;
  const [stops, warnings] = [count('stop'), count('warn')];
  if (stops > 0) return { verdict: 'no', question, answer: 'NOT COMPLETE', reason: `${stops} ${stops === 1 ? 'finding stops' : 'findings stop'} it: see Findings.` };
  if (warnings > 0) return { verdict: 'look', question, answer: 'LOOK', reason: `${warnings} ${warnings === 1 ? 'finding asks' : 'findings ask'} for a look: see Findings.` };
  return { verdict: 'yes', question, answer: 'COMPLETE', reason: 'Every pass the method needs holds the range.' };
}

function turnoverBlocks(shot: ShotFile): readonly Block[] {
  const { record, cdl } = shot;
  const facts = [
    { label: 'Change', value: shot.change.words.join(' ') },
    { label: 'Frames', value: `${runWords(shot.numbers.first, shot.numbers.last)}, the cut ${runWords(shot.cut.first, shot.cut.last)}, handles ${shot.handles.head} + ${shot.handles.tail}` },
    ...(record === null ? [] : [{ label: 'In the cut', value: `${record.in} to ${record.out} (out is the frame after)` }]),
    ...(shot.retime === null ? [] : [{ label: 'Retime', value: shot.retime }]),
    ...(cdl === null ? [] : [{ label: 'ASC CDL', value: `slope ${cdl.slope.join(' ')}, offset ${cdl.offset.join(' ')}, power ${cdl.power.join(' ')}, saturation ${cdl.saturation} (${cdl.from}); applied to nothing` }]),
    ...shot.passes.map((pass) => ({ label: roleName(pass.role), value: deliveredWords(pass) })),
  ];
  return [{ kind: 'facts', facts: facts.filter(({ value }) => value !== '') }];
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
  const passes = shot.passes.filter(({ lies }) => lies === 'in sync');
  const length = shot.numbers.last - shot.numbers.first + 1;
  const step = STEPS.find((frames) => length / frames <= MOST_ROWS) ?? Math.ceil(length / MOST_ROWS);
  const marks = new Map([[shot.numbers.first, 'first'], [shot.numbers.last, 'last'], [shot.cut.first, 'cut in'], [shot.cut.last, 'cut out (last)']]);
  const wanted = new Set(marks.keys());
  for (let number = Math.ceil(shot.numbers.first / step) * step; number <= shot.numbers.last; number += step) wanted.add(number);
  return {
    kind: 'table',
    caption: 'Frames are counted from each clip’s first, which is 0. The same number is the same moment on every pass.',
    columns: [{ heading: 'Number', share: 0.9 }, ...passes.map(({ role }) => ({ heading: roleName(role), share: 1.6 }))],
    rows: [...wanted].toSorted((a, b) => a - b).map((number) => [
      { text: String(number), tone: marks.has(number) ? 'strong' as const : 'plain' as const, note: marks.get(number) ?? '' },
      ...passes.map((pass) => ({ text: atNumber(pass, number, clips.find(({ id }) => id === pass.clip)) })),
    ]),
  };
}

function atNumber({ numbers, source }: ShotPass, number: number, clip: Clip | undefined): string {
  if (numbers === null || source === null || number < numbers.first || number > numbers.last) return 'not there';
  const frame = source.first + number - numbers.first;
  const label = clip === undefined ? undefined : labelAt(clip, frame);
  return `${label === undefined ? '' : `${label} · `}frame ${frame}`;
}
