import type { JudgedSet } from '../../core/checks/judged.ts';
import type { LeadPictures } from '../../core/checks/lead-pictures.ts';
import type { Clip, ClipId } from '../../core/material/clip.ts';
import type { ClipPicture, MatchPicture } from '../../core/picture/measure/match-picture.ts';
import { sortedBy } from '../report/order.ts';
import { registrationWords } from '../terminal/split-facts.ts';
import { axisFor, partsOf } from './axis.ts';
import { shortName } from './clip-words.ts';
import type { Block, CurveLine, CurvePanel, CurvePlot, Fact, Picture, PlannedStill } from './content.ts';
import { ticksOf } from './coverage-drawing.ts';
import { numberWords } from './value-words.ts';

type Measured = Extract<LeadPictures, { kind: 'measured' }>;

/** The panels that a measured match is shown by, as `drawPanels` orders them. */
const PANELS = ['lead, with the line', 'swapped pass laid on it', 'joined along the line', 'difference, 8 times stronger'] as const;

/** Before the lead's id in the name of a picture that is drawn, not decoded. */
export const DRAWN = 'picture of ';

/** The measured leads that a set is judged by, or all where none of those was measured. */
function shownPictures({ pictures = [], countingLeads }: JudgedSet): readonly LeadPictures[] {
  const counting = pictures.filter(({ lead }) => countingLeads.includes(lead));
  return sortedBy(counting.length > 0 ? counting : pictures, ({ lead }) => lead);
}

/** What the pictures say, for the leads a set is judged by: figures with their confidence, the line over both passes, the camera's way. */
export function pictureStudyBlocks(judged: JudgedSet): readonly Block[] {
  const clipOf = (id: ClipId | undefined): Clip | undefined => judged.matched.set.clips.find((clip) => clip.id === id);
  return shownPictures(judged).flatMap((one): readonly Block[] => {
    const lead = clipOf(one.lead);
    if (one.kind === 'not-measured') return [{ kind: 'text', tone: 'faint', text: `The pictures of ${lead === undefined ? one.lead : shortName(lead)} were not measured: ${one.why}.` }];
    const plot = lead === undefined ? undefined : motionPlot(one.picture, lead);
    const standIns = one.standIns.map(({ clip, file }) => `${clip} was looked at through ${file}.`);
    return [
      { kind: 'facts', facts: pictureFacts(one.picture) },
      ...(one.swapped === undefined || one.picture.registration.kind !== 'measured' ? [] : [{ kind: 'pictures', caption: `${lead === undefined ? one.lead : shortName(lead)} and its swapped pass, middle pair of frames`, rows: [{ label: 'joined', note: 'by the measured line', pictures: drawnPictures(one, [0, 1, 2]) }, { label: 'compared', note: 'grey is alike', pictures: drawnPictures(one, [3]) }] } as const]),
      ...(plot === undefined ? [] : [{ kind: 'curves', plot } as const]),
      ...standIns.map((text) => ({ kind: 'text', tone: 'faint', text }) as const),
    ];
  });
}

/** The drawn pictures of a set's sheet and board. */
export function drawnStills(judged: JudgedSet): readonly PlannedStill[] {
  return shownPictures(judged).flatMap((one) => (one.kind === 'measured' && one.swapped !== undefined && one.picture.registration.kind === 'measured' ? PANELS.map((_, frame) => ({ clip: `${DRAWN}${one.lead}`, frame })) : []));
}

function drawnPictures({ lead }: Measured, panels: readonly number[]): readonly Picture[] {
  return panels.map((frame) => ({ heading: PANELS[frame] ?? '', still: { clip: `${DRAWN}${lead}`, frame }, caption: '', remark: '', instead: 'not kept from the run that measured it' }));
}

/** Every figure with what it is good to; what cannot be told says why. */
export function pictureFacts(picture: MatchPicture): readonly Fact[] {
  const { registration, exposure, parallax, grain, plate, split, pass } = picture;
  if (pass === undefined) return [{ label: 'Camera', value: motionWords(picture.lead) }];
  const objects = plate.kind === 'measured' ? plate.differences.filter(({ kind }) => kind === 'object').length : 0;
  return [
    ...(split === undefined ? [] : [{ label: 'Split line', value: `${split.verdict}${split.kind === undefined ? '' : `, ${split.kind}`} (confidence ${numberWords(split.confidence, 2)})${split.corridor === undefined ? '' : `; corridor ${numberWords(split.corridor.narrowest, 0)} px at its narrowest`}; ${split.reasons.join('; ')}` }]),
    { label: 'Registration', value: registration.kind === 'measured' ? registrationWords(registration) : cannot(registration.why) },
    { label: 'Parallax', value: parallax.kind === 'measured' ? `${parallax.found ? 'found' : 'none found'}, parts up to ${numberWords(parallax.largestPx, 1)} px apart` : cannot(parallax.why) },
    { label: 'Exposure', value: exposure.kind === 'measured' ? `${numberWords(exposure.stops, 2)} stop; red ${numberWords(exposure.redStops, 2)}, blue ${numberWords(exposure.blueStops, 2)} against green` : cannot(exposure.why) },
    { label: 'Noise', value: grain.kind === 'measured' ? `${numberWords(grain.ratio, 2)} times the lead's${grain.differs ? ': match the grain' : ''}` : cannot(grain.why) },
    { label: 'Clean plate', value: plate.kind === 'measured' ? (objects === 0 && plate.activeFrames.length === 0 ? 'nobody found in it' : 'something in it that the passes do not show') : cannot(plate.why) },
    { label: 'Camera', value: `lead ${motionWords(picture.lead)}; swapped pass ${motionWords(pass)}` },
    { label: 'Measured on', value: `${picture.proxy.width} x ${picture.proxy.height} px of ${picture.raster.width} x ${picture.raster.height} px, offset ${picture.offset} frames` },
  ];
}

function motionWords({ motion }: ClipPicture): string {
  if (motion.kind === 'cannot-tell') return cannot(motion.why);
  return motion.is === 'locked' ? 'stands still' : `${motion.is === 'moving' ? (motion.move ?? 'moving') : motion.is}, up to ${numberWords(motion.fromFirstPx, 1)} px from its first frame`;
}

/** Where the middle of the picture went in both passes; undefined when both cameras stood. */
function motionPlot({ lead, pass, offset }: MatchPicture, clip: Clip): CurvePlot | undefined {
  const [first, second] = [pathOf(lead), pass === undefined ? [] : pathOf(pass).map(([frame, x, y]) => [frame - offset, x, y] as const)];
  const frames = [...first, ...second].map(([frame]) => frame);
  if (frames.length === 0) return undefined;
  const span = { start: Math.min(...frames), end: Math.max(...frames) + 1 };
  const panel = (label: string, at: 1 | 2): CurvePanel => {
    const line = (name: string, look: CurveLine['look'], path: typeof first): CurveLine => ({ name, look, parts: partsOf(path.map((point) => ({ frame: point[0], value: point[at] })), span, Number.MAX_SAFE_INTEGER) });
    const lines = [line('lead', 'solid', first), line('swapped pass', 'dashed', second)].filter(({ parts }) => parts.length > 0);
    const values = lines.flatMap(({ parts }) => parts.flat().map(({ value }) => value));
    return { label, ...axisFor(values, 0.05), lines, words: `${label}: ${lines.map(({ name }) => name).join(', ')}` };
  };
  return { title: 'Way of the picture from the first frame', span, ticks: ticksOf(span, clip), panels: [panel('to the right, px', 1), panel('down, px', 2)] };
}

function pathOf({ motion }: ClipPicture): readonly (readonly [number, number, number])[] {
  return motion.kind === 'measured' ? motion.path : [];
}

function cannot(why: string): string {
  return `cannot tell: ${why}`;
}
