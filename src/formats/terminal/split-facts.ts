import type { MatchPicture, PlateRegistration } from '../../core/picture/measure/match-picture.ts';
import type { SplitLine } from '../../core/picture/split/split-line.ts';
import { wrap } from './wrap.ts';

const HEADLINES = { yes: 'YES: the two passes join along a line', no: 'NO: no line joins the two passes', 'cannot tell': 'CANNOT TELL: a person must look' } as const;

/** The study of two clips for people: verdict, line, and the measurements it rests on, a line each. */
export function formatSplitFacts(picture: MatchPicture, width: number): string {
  const { split } = picture;
  const rows: (readonly [string, string])[] = [
    ...(split === undefined ? [] : lineRows(split)),
    ['registration', registrationText(picture)],
    ['exposure', exposureText(picture)],
    ['parallax', picture.parallax.kind === 'measured' ? `${picture.parallax.found ? 'FOUND: the camera stood elsewhere' : 'none found'} (tiles up to ${px(picture.parallax.largestPx)} apart)` : cannot(picture.parallax.why)],
    ['noise', picture.grain.kind === 'measured' ? `swapped pass ${picture.grain.ratio.toFixed(2)} times the lead${picture.grain.differs ? ': match the grain' : ''}` : cannot(picture.grain.why)],
    ['clean plate', plateText(picture)],
    ['sync', syncText(picture)],
  ];
  const headline = split === undefined ? HEADLINES['cannot tell'] : `${HEADLINES[split.verdict]} (confidence ${split.confidence.toFixed(2)})`;
  const lines = rows.flatMap(([name, text]) => wrap(text, Math.max(30, width - 15)).map((part, index) => `${(index === 0 ? name : '').padEnd(14)} ${part}`.trimEnd()));
  return `${[headline, '', ...lines].join('\n')}\n`;
}

function lineRows(split: SplitLine): readonly (readonly [string, string])[] {
  const { kind, corridor, margin, badFrames, reasons, slip } = split;
  const bad = badFrames.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ');
  return [
    ...(kind === undefined ? [] : [['line', `${kind}, holds for ${slip ?? 'this offset only'}`] as const]),
    ...(corridor === undefined ? [] : [['corridor', `${px(corridor.narrowest)} at its narrowest, from x ${Math.round(corridor.left)} to ${Math.round(corridor.right)} at row ${Math.round(corridor.row)}`] as const]),
    ...(margin === undefined ? [] : [['margin', `${px(margin.px)} of clear picture, ${margin.percentOfWidth.toFixed(1)} % of the width: ${margin.grade}`] as const]),
    ...(bad === '' ? [] : [['bad frames', `${bad} of the lead, counted from 0, both ends included`] as const]),
    ...reasons.map((reason, index) => [index === 0 ? 'because' : '', reason] as const),
  ];
}

/** "1.2 px right, 0.3 px up, scale 1.0004, 0.01° (at most 2.1 ± 0.4 px in a corner)". */
export function registrationWords({ dx, dy, scale, rotationDeg, largestPx, uncertaintyPx, confidence }: PlateRegistration): string {
  const doubt = confidence === 'low' ? ', low confidence' : '';
  return `${px(Math.abs(dx))} ${dx < 0 ? 'left' : 'right'}, ${px(Math.abs(dy))} ${dy < 0 ? 'up' : 'down'}, scale ${scale.toFixed(4)}, ${rotationDeg.toFixed(3)}° (at most ${largestPx.toFixed(1)} ± ${px(uncertaintyPx)} in a corner${doubt})`;
}

function registrationText({ registration }: MatchPicture): string {
  return registration.kind === 'measured' ? registrationWords(registration) : cannot(registration.why);
}

function exposureText({ exposure }: MatchPicture): string {
  if (exposure.kind === 'cannot-tell') return cannot(exposure.why);
  return `${signed(exposure.stops)} stop, red ${signed(exposure.redStops)}, blue ${signed(exposure.blueStops)} against green`;
}

function plateText({ plate, clean }: MatchPicture): string {
  if (clean === undefined) return 'none given: who stands still for half of both passes is not seen';
  if (plate.kind === 'cannot-tell') return cannot(plate.why);
  const objects = plate.differences.filter(({ kind }) => kind === 'object');
  const words = objects.map(({ left, top, width, height }) => `something ${width} x ${height} px at ${left}, ${top}`);
  return words.length === 0 ? 'nobody found in it' : words.join('; ');
}

function syncText({ offset, sound, cameraMotion }: MatchPicture): string {
  const told = [sound, cameraMotion].flatMap((answer) => (answer.kind === 'measured' ? [`${answer.words} (${answer.offset} frames)`] : []));
  return `measured at offset ${offset}; ${told.length === 0 ? 'neither sound nor camera motion tells another' : told.join('; ')}`;
}

function cannot(why: string): string {
  return `cannot tell: ${why}`;
}

function px(value: number): string {
  return `${value < 9.95 ? value.toFixed(1) : Math.round(value)} px`;
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(2)}`;
}
