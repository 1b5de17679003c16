import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import { withoutImpossible } from '../../core/checks/impossible-facts.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { ToleranceOf } from '../../core/optics/tolerance-for.ts';
import { rateWords } from './clip-words.ts';
import type { CardFact, MissingMeasure } from './card-content.ts';
import type { SourceList } from './comparison.ts';
import { PROPERTIES } from './comparison.ts';
import { centimetreWords, feetWords, sharpWords } from './crew-units.ts';
import type { CardSection } from './template.ts';
import { FINE, toleranceWords } from './tolerance-words.ts';

/** The facts of one section of a card, and what of it nobody noted. */
export interface CardFacts {
  readonly facts: readonly CardFact[];
  readonly missing: readonly MissingMeasure[];
}

/** A value of the card: a property of the clip, or one that no report holds (`same`: where the camera stood, where it looked). */
interface CardLine {
  readonly label: string;
  readonly property?: string;
  readonly same?: string;
  readonly of?: ToleranceOf;
  /** Its ± is how far the camera may stand ahead or behind, whoever is in frame. */
  readonly along?: boolean;
  /** How it is said on a card, when not as on the sheet. */
  readonly words?: (clip: Clip) => Pick<CardFact, 'value' | 'also'> | undefined;
  /** What its absence means. */
  readonly why?: string;
  /** Nothing is missed when it is not on record: it is a default of the camera, or there is none. */
  readonly optional?: boolean;
}

const taped = (metres: number | undefined): Pick<CardFact, 'value' | 'also'> | undefined =>
  metres === undefined ? undefined : { value: Number.isFinite(metres) ? `${Math.round(metres * 1000) / 1000 + 0} m` : '∞', also: Number.isFinite(metres) ? feetWords(metres) : '' };

const LINES: Readonly<Record<Extract<CardSection, 'lens' | 'exposure' | 'position'>, readonly CardLine[]>> = {
  lens: [
    { label: 'Lens', property: 'Lens' },
    { label: 'Lens serial', property: 'Lens serial', why: 'two lenses of one type bend the picture differently' },
    { label: 'Focal length', property: 'Focal length', of: 'focalLength', why: 'without it nothing can be said in pixels' },
    { label: 'Stop', property: 'Stop', of: 'iris', why: 'without it no depth of field' },
    { label: 'Focus mark', property: 'Focus distance', of: 'focus', words: ({ lens }) => taped(lens.focusDistanceM?.value), why: 'without it no depth of field' },
    { label: 'Filters', property: 'Filters' },
    { label: 'Squeeze', property: 'Squeeze', optional: true },
  ],
  exposure: [
    { label: 'EI', property: 'EI', of: 'ei' },
    { label: 'White balance', property: 'White balance' },
    { label: 'Tint', property: 'Tint', optional: true },
    { label: 'Shutter', property: 'Shutter', of: 'shutter' },
    { label: 'Frame rate', property: 'Frame rate', words: (clip) => (clip.rate === undefined ? undefined : { value: rateWords({ rate: clip.rate }) }) },
    { label: 'Sensor rate', property: 'Sensor rate' },
    { label: 'Raster', property: 'Raster' },
  ],
  position: [
    { label: 'Camera height', property: 'Camera height', of: 'height', words: ({ position: { heightM } }) => (heightM === undefined ? undefined : { value: centimetreWords(heightM.value), also: feetWords(heightM.value) }) },
    { label: 'Tilt', property: 'Tilt', of: 'tilt' },
    { label: 'Roll', property: 'Roll', of: 'roll' },
    { label: 'Pan', same: 'same', of: 'pan' },
    { label: 'Side to side', same: 'same', of: 'side' },
    { label: 'Camera to subject', property: 'Subject distance', of: 'forward', along: true, words: ({ position }) => taped(position.subjectDistanceM?.value), why: 'without it no ± for where the camera stands' },
    { label: 'Camera to background', property: 'Background distance', of: 'forward', along: true, words: ({ position }) => taped(position.backgroundDistanceM?.value), why: 'without it ± of place is the tightest it can be' },
  ],
};

/** Every value of a section, each with how far it may be out; what nobody noted, or no camera can have, is listed apart, never made up. */
export function cardFacts(section: keyof typeof LINES, lead: Clip, optics: ClipOptics | undefined, sources: SourceList): CardFacts {
  const facts: CardFact[] = [];
  const missing: MissingMeasure[] = [];
  const sound = withoutImpossible(lead);
  for (const line of LINES[section]) {
    const valueOf = (clip: Clip) => PROPERTIES.find(({ name }) => name === line.property)?.of(clip);
    const stated = valueOf(sound);
    const words = line.words === undefined ? stated && { value: stated.text } : line.words(sound);
    const impossible = stated === undefined && valueOf(lead) !== undefined;
    if (line.same !== undefined) {
      const tolerance = toleranceOf(line, lead, optics);
      if (tolerance !== undefined) facts.push({ label: line.label, value: line.same, tolerance });
    } else if (stated !== undefined && words !== undefined) {
      facts.push({ ...factOf(line, words, lead, optics), ...(stated.source === undefined ? {} : { mark: sources.markOf(stated.source, lead) }) });
    } else if (impossible || line.optional !== true) {
      missing.push({ what: missingName(line), why: impossible ? 'what the papers say of it no camera can have' : (line.why ?? '') });
    }
  }
  return { facts, missing };
}

/** A prime cannot be set to anything else: only a lens that is called a zoom, or changes along the take, has a focal length that can be out. */
function isZoom({ lens, tracks }: Clip): boolean {
  const lengths = tracks.flatMap(({ values }) => (values.focalLength ?? []).filter((value) => !Number.isNaN(value)));
  return lengths.some((value) => value !== lengths[0]) || /zoom|\d\s*(?:mm)?\s*[-–]\s*\d/i.test(lens.model?.value ?? '');
}

function missingName({ label }: CardLine): string {
  return label.toLowerCase().replace(/^ei$/, 'EI').replace(/^camera to /, 'distance to ');
}

function factOf(line: CardLine, words: Pick<CardFact, 'value' | 'also'>, lead: Clip, optics: ClipOptics | undefined): CardFact {
  const tolerance = toleranceOf(line, lead, optics);
  const sharp = line.of === 'focus' && optics?.figures.sharp !== undefined ? sharpWords(optics.figures.sharp) : '';
  const also = [words.also ?? '', sharp].filter((text) => text !== '').join(' · ');
  return { label: line.label, value: words.value, ...(tolerance === undefined ? {} : { tolerance }), ...(also === '' ? {} : { also }) };
}

function toleranceOf({ of, same, along }: CardLine, lead: Clip, optics: ClipOptics | undefined): string | undefined {
  if (of === undefined || (of === 'focalLength' && !isZoom(lead))) return undefined;
  const found = optics?.box.find((entry) => entry.of === of);
  if (found === undefined) return undefined;
  const words = toleranceWords(found.tolerance, lead.lens.focusDistanceM?.value);
  switch (words.kind) {
    case 'within': return `${words.text}${along === true ? ' (camera, along the view)' : ''}${words.fine ? ` ${FINE}` : ''}`;
    case 'free': return 'free';
    // A place nobody writes down is worth a line only with its ±.
    case 'missing': return same === undefined ? `± needs ${words.what.join(', ').replaceAll(' of the first pass', '')}` : undefined;
    case 'impossible': return words.text;
  }
  return words satisfies never;
}
