import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import { refusalText } from '../../core/checks/cost.ts';
import type { AngleOfView } from '../../core/optics/angle-of-view.ts';
import type { ToleranceOf } from '../../core/optics/tolerance-for.ts';
import { feetWords, tapeWords } from '../sheet/crew-units.ts';
import { FINE, READ_TO, toleranceWords } from '../sheet/tolerance-words.ts';
import { numberWords } from '../sheet/value-words.ts';

/** A figure that was worked out: its name, what it comes to, and what it rests on. */
export interface WorkedOut {
  readonly name: string;
  readonly value: string;
  readonly from: string;
}

/** What the optics of a clip come to, in words: what the lens sees, where it is sharp, how exactly each setting must be met again; and below, every assumption. */
export function opticsFacts(optics: ClipOptics): { readonly figures: readonly WorkedOut[]; readonly notes: readonly string[] } {
  return { figures: [...lensFacts(optics), ...boxFacts(optics)], notes: notesOf(optics) };
}

function lensFacts({ plate, sensorFrom, figures, circleMm, circlePx, camera }: ClipOptics): readonly WorkedOut[] {
  const { angles, anglesFocused, field, sharp, hyperfocalM } = figures;
  const circle = `circle of confusion ${numberWords(circleMm, 4)} mm${circlePx === undefined ? '' : `, ${numberWords(circlePx, 2)} px here`}`;
  const facts: WorkedOut[] = [];
  const add = (name: string, value: string, from: string): void => void facts.push({ name, value, from });
  if (plate !== undefined) {
    const squeeze = plate.squeeze === 1 ? '' : `, squeezed ${numberWords(plate.squeeze, 3)}×`;
    add('sensor recorded', `${numberWords(plate.sensor.widthMm, 2)} × ${numberWords(plate.sensor.heightMm, 2)} mm${squeeze}`, sensorFrom ?? 'assumed, see below');
  }
  if (angles !== undefined) add('field of view', anglesWords(angles), 'horizontal × vertical, diagonal; focused at infinity');
  if (anglesFocused !== undefined) add('  as focused', anglesWords(anglesFocused), `focused at ${tapeWords(camera.focusM ?? 'infinity')} from the sensor`);
  if (field !== undefined) add('  in the picture', `${numberWords(field.widthM, 2)} × ${numberWords(field.heightM, 2)} m`, 'what is seen of a wall where the lens is focused');
  if (sharp !== undefined) {
    add('depth of field', `${tapeWords(sharp.nearM)} to ${tapeWords(sharp.farM)}`, `${feetWords(sharp.nearM)} to ${sharp.farM === 'infinity' ? '∞' : feetWords(sharp.farM)}, from the sensor; ${circle}`);
  }
  if (hyperfocalM !== undefined) add('hyperfocal', tapeWords(hyperfocalM), `${feetWords(hyperfocalM)}, from the sensor; ${circle}`);
  return facts;
}

function anglesWords({ horizontalDeg, verticalDeg, diagonalDeg }: AngleOfView): string {
  return `${horizontalDeg.toFixed(2)}° × ${verticalDeg.toFixed(2)}°, ${diagonalDeg.toFixed(2)}°`;
}

const NAMES: Readonly<Record<ToleranceOf, string>> = {
  focalLength: 'focal length', focus: 'focus', iris: 'stop', nd: 'neutral density', shutter: 'shutter', ei: 'EI',
  height: 'height', side: 'side to side', forward: 'along the view', pan: 'pan', tilt: 'tilt', roll: 'roll',
};

function boxFacts({ box, camera }: ClipOptics): readonly WorkedOut[] {
  return box.map(({ of, tolerance }) => {
    const words = toleranceWords(tolerance, camera.focusM);
    const name = `keep ${NAMES[of]}`;
    const limit = tolerance.kind === 'plus-minus' || tolerance.kind === 'range' ? `${numberWords(tolerance.limit, 3)} ${tolerance.limitedBy === 'exposure' ? 'stop' : `px of ${tolerance.limitedBy}`}` : '';
    switch (words.kind) {
      case 'within': return { name, value: `${words.text}${words.fine ? ` ${FINE}` : ''}`, from: limit };
      case 'missing': return { name, value: 'not known', from: `not on record: ${words.what.join(', ')}` };
      case 'free':
      case 'impossible': return { name, value: '', from: words.text };
    }
    return words satisfies never;
  });
}

function notesOf({ box, figures, assumptions, refusals, plate }: ClipOptics): readonly string[] {
  const fine = box.some(({ tolerance }) => {
    const words = toleranceWords(tolerance);
    return words.kind === 'within' && words.fine;
  });
  return [
    ...(box.length === 0 ? [] : ['each ± by itself reaches the limit beside it']),
    ...(fine ? [`${FINE} finer than a tape (${READ_TO.mm} mm) or a level (${READ_TO.degrees}°) shows`] : []),
    ...(plate === undefined ? ['the raster is not on record: nothing can be said in px'] : []),
    ...(figures.missing.length === 0 ? [] : [`not on record: ${figures.missing.join(', ')}`]),
    ...assumptions.map((text) => `assumed: ${text}`),
    ...refusals.map((refusal) => `impossible, not used: ${refusalText(refusal)}`),
  ];
}
