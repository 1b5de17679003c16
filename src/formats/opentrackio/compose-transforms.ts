import type { Matrix, Vector } from '../../core/optics/matrix.ts';
import { IDENTITY, apply, product } from '../../core/optics/matrix.ts';
import type { JsonRecord } from './json-record.ts';
import { asNumber, asRecord, asText } from './json-record.ts';
import type { Complaint } from './problem-list.ts';

/** Where the sensor is on the stage (m; x right, y ahead, z up) and how it is turned there. */
export interface StagePose {
  readonly place: Vector;
  readonly turn: Matrix;
}

/** No stage is a kilometre wide: such numbers are millimetres or worse. */
const WIDEST_STAGE_M = 1000;

/**
 * The pose at the end of a chain of transforms ("Dolly", "Crane arm", "Camera"): each is measured in the frame of the one before it. Turns are pan about z, then
 * tilt about x, then roll about y, each by the right-hand rule, as the axes are right-handed. A number that is missing is not taken for 0.
 */
export function composeTransforms(value: unknown): StagePose | Complaint {
  if (!Array.isArray(value) || value.length === 0) return complaint('no transforms', 'a list of at least one transform');
  let [place, turn]: [Vector, Matrix] = [[0, 0, 0], IDENTITY];
  for (const [index, entry] of value.entries()) {
    const record = asRecord(entry) ?? {};
    const name = asText(record['id']) ?? `transform ${index + 1}`;
    const step = partsOf(record, name);
    if ('found' in step) return step;
    const [x, y, z] = apply(turn, step.place);
    place = [place[0] + x, place[1] + y, place[2] + z];
    turn = product(turn, step.turn);
  }
  if (!place.every((metres) => Math.abs(metres) <= WIDEST_STAGE_M)) return complaint('a camera more than 1000 m from the stage\'s origin', 'metres: these look like another unit');
  return { place, turn };
}

function partsOf(record: JsonRecord, name: string): StagePose | Complaint {
  const place = threeOf(record['translation'], ['x', 'y', 'z']);
  if (typeof place === 'string') return complaint(`translation of ${name} without ${place}`, 'x, y and z as numbers');
  const angles = threeOf(record['rotation'], ['pan', 'tilt', 'roll']);
  if (typeof angles === 'string') return complaint(`rotation of ${name} without ${angles}`, 'pan, tilt and roll as numbers');
  const scale = record['scale'] === undefined ? [1, 1, 1] : threeOf(record['scale'], ['x', 'y', 'z']);
  if (typeof scale === 'string' || scale.some((one) => one !== 1)) return complaint(`a scale of ${name} that is not 1`, 'a chain without scaling, since a camera cannot be stretched');
  return { place, turn: turnOf(angles) };
}

/** Three numbers by their names, or the first name that has none. */
function threeOf(value: unknown, names: readonly [string, string, string]): Vector | string {
  const record = asRecord(value) ?? {};
  const [a, b, c] = names.map((name) => asNumber(record[name]));
  return a === undefined ? names[0] : b === undefined ? names[1] : c === undefined ? names[2] : [a, b, c];
}

function turnOf([panDeg, tiltDeg, rollDeg]: Vector): Matrix {
  const [cp, sp] = cosSin(panDeg);
  const [ct, st] = cosSin(tiltDeg);
  const [cr, sr] = cosSin(rollDeg);
  const pan: Matrix = [cp, -sp, 0, sp, cp, 0, 0, 0, 1];
  const tilt: Matrix = [1, 0, 0, 0, ct, -st, 0, st, ct];
  const roll: Matrix = [cr, 0, sr, 0, 1, 0, -sr, 0, cr];
  return product(product(pan, tilt), roll);
}

function cosSin(degrees: number): readonly [number, number] {
  return [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
}

function complaint(found: string, expected: string): Complaint {
  return { found, expected, remedy: 'The sample is not used for comparing moves.' };
}
