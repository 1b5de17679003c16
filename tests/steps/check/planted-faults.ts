import type { Clip } from '../../../src/core/material/clip.ts';
import type { FindingCode, Severity } from '../../../src/core/material/finding.ts';
import type { Statement } from '../../../src/core/material/statement.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { ASSUMED, chosen, makeFullClip } from '../../support/make-matched.ts';
import { slate } from '../../support/make-clips.ts';
import type { Scene } from './scene.ts';
import { handheldScene, soundScene, withPass } from './scene.ts';

/** One thing spoilt in a set that was sound, and the only finding that must come of it. */
export interface PlantedFault {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly what: string;
  readonly on: Scene;
  readonly plant: (scene: Scene) => Scene;
  /** It spoils a value that no other such fault touches, so that any number of them may be planted together. */
  readonly alone?: true;
}

const source = (field: string): Statement['source'] => ({ kind: 'report', file: 'report.csv', place: `line 3, column ${field}` });
const swapped = (spoil: (clip: Clip) => Partial<Clip>) => (scene: Scene): Scene => withPass(scene, 'swapped', { ...spoil(scene.swapped) });
const lens = (spoil: Partial<Clip['lens']>) => swapped((clip) => ({ lens: { ...clip.lens, ...spoil } }));
const exposure = (spoil: Partial<Clip['exposure']>) => swapped((clip) => ({ exposure: { ...clip.exposure, ...spoil } }));
const position = (spoil: Partial<Clip['position']>) => swapped((clip) => ({ position: { ...clip.position, ...spoil } }));
const picture = (spoil: Partial<Clip['picture']>) => swapped((clip) => ({ picture: { ...clip.picture, ...spoil } }));
const without = (...roles: readonly ('swapped' | 'clean')[]) => (scene: Scene): Scene => {
  let left = scene;
  for (const role of roles) left = withPass(left, role, { role: 'reference' });
  return left;
};

/** 25 fps beside 24: sensor and timecode follow the file, as they do in a camera. */
const AT_25: Partial<Clip> = {
  rate: frameRate(25), sensorRate: frameRate(25), timecodeFormat: { base: 25, drop: false },
  start: { frame: 906_000, format: { base: 25, drop: false } },
};

const reference = makeFullClip(4, 'reference');
const withReference = soundScene({ more: [reference], method: { name: 'head-replacement', required: ['lead', 'swapped', 'clean', 'reference'] } });
const element = soundScene({ more: [makeFullClip(4, 'element')], method: { name: 'screen-element', required: ['lead', 'clean', 'element'] } });
const sequence = soundScene({ swapped: makeFullClip(2, 'swapped', { kind: 'sequence', sequence: { first: 1001, last: 1240, padding: 4, missing: [] } }) });
const dropFrame = ((): Scene => {
  const format = { base: 30, drop: true };
  const over = (frame: number): Partial<Clip> => ({ rate: frameRate(30000, 1001), sensorRate: frameRate(30000, 1001), timecodeFormat: format, start: { frame, format } });
  const { lead, swapped: pass, clean } = soundScene();
  return soundScene({ lead: { ...lead, ...over(1_078_920) }, swapped: { ...pass, ...over(1_090_000) }, clean: { ...clean, ...over(1_100_000) } });
})();

export const PLANTED: readonly PlantedFault[] = [
  { code: 'unreadable-value', severity: 'warn', what: 'a cell of the report nobody can read', on: soundScene(), alone: true,
    plant: swapped(() => ({ problems: [{ code: 'unreadable-value', severity: 'warn', file: 'report.csv', place: 'line 3, column Tilt', found: 'a bit', expected: 'degrees', remedy: 'write it as -2°' }] })) },
  { code: 'no-timecode', severity: 'warn', what: 'a swapped pass without timecode', on: soundScene(),
    plant: (scene) => ({ ...scene, swapped: withoutStart(scene.swapped) }) },
  { code: 'sources-disagree', severity: 'warn', what: 'file and report differ on the stop', on: soundScene(), alone: true,
    plant: swapped(() => ({ disagreements: [{ field: 'stop', chosen: { field: 'stop', value: { kind: 'T', number: 2.8 }, raw: 'T2.8', source: source('T-Stop') }, other: { field: 'stop', value: { kind: 'T', number: 4 }, raw: 'T4', source: { kind: 'note', file: 'log.tsv', place: 'line 9' } } }] })) },
  { code: 'duplicate-clip', severity: 'warn', what: 'the swapped pass copied twice', on: soundScene(),
    plant: (scene) => ({ ...scene, more: [{ ...scene.swapped, id: `copy/${scene.swapped.file}`, file: `copy/${scene.swapped.file}` }] }) },
  { code: 'truncated-clip', severity: 'warn', what: 'a spare take cut off in copying', on: soundScene(),
    plant: (scene) => ({ ...scene, more: [unusable(makeFullClip(4, 'swapped'), 'truncated-clip')] }) },
  { code: 'unreadable-clip', severity: 'stop', what: 'a circled take that cannot be read', on: soundScene(),
    plant: (scene) => ({ ...scene, more: [unusable(makeFullClip(4, 'swapped', { circled: true }), 'unreadable-clip')] }) },
  { code: 'still-growing', severity: 'warn', what: 'a spare take still being copied', on: soundScene(),
    plant: (scene) => ({ ...scene, more: [unusable(makeFullClip(4, 'clean'), 'still-growing')] }) },

  { code: 'missing-lead-pass', severity: 'stop', what: 'no lead pass', on: soundScene(), plant: (scene) => withPass(scene, 'lead', { role: 'swapped' }) },
  { code: 'missing-swapped-pass', severity: 'stop', what: 'no swapped pass', on: soundScene(), plant: without('swapped') },
  { code: 'missing-swapped-pass', severity: 'stop', what: 'no element before the screen', on: element, plant: (scene) => ({ ...scene, more: [] }) },
  { code: 'missing-clean-plate', severity: 'stop', what: 'no clean plate', on: soundScene(), plant: without('clean') },
  { code: 'missing-reference', severity: 'stop', what: 'no reference', on: withReference, plant: (scene) => ({ ...scene, more: [] }) },
  { code: 'missing-reference', severity: 'warn', what: 'no reference, which was only wanted', on: { ...withReference, method: { wanted: ['reference'] } }, plant: (scene) => ({ ...scene, more: [] }) },
  { code: 'missing-reference', severity: 'note', what: 'one reference where two are named', on: withReference, plant: (scene) => ({ ...scene, method: { ...scene.method, references: ['grey ball', 'chrome ball'] } }) },
  { code: 'unmatched-pass', severity: 'warn', what: 'a clip nobody named', on: soundScene(),
    plant: (scene) => leftOver(scene, makeFullClip(4, 'unknown'), 'nothing tells which pass it is') },
  { code: 'unmatched-pass', severity: 'note', what: 'a spare swapped pass', on: soundScene(),
    plant: (scene) => leftOver(scene, makeFullClip(4, 'swapped'), 'another swapped pass was chosen for every lead take') },
  { code: 'ambiguous-match', severity: 'warn', what: 'two swapped passes alike', on: soundScene({ more: [makeFullClip(4, 'swapped')] }), alone: true,
    plant: (scene) => ({ ...scene, match: { ...scene.match, swapped: { ...scene.match['swapped'], margin: 0.2, runnerUp: { clip: scene.clean.id, cost: 0.2 } } } }) },
  { code: 'proposed-match', severity: 'warn', what: 'a clip of another slate that fits', on: soundScene(),
    plant: (scene) => ({ ...scene, day: { clips: [makeFullClip(4, 'swapped', { slate: slate('57D', 1) })] }, proposed: [{ lead: scene.lead.id, clip: makeFullClip(4, 'swapped').id, role: 'swapped', why: 'same lens, shot next' }] }) },
  { code: 'role-conflict', severity: 'warn', what: 'log and slate call one clip two things', on: soundScene(), alone: true,
    plant: swapped((clip) => ({ roleEvidence: [...clip.roleEvidence, { role: 'lead', kind: 'slate', weight: 0.9, words: 'the slate says "27B lead"' }] })) },
  { code: 'role-guessed', severity: 'warn', what: 'only shooting order says what it is', on: soundScene(),
    plant: swapped(() => ({ roleConfidence: 0.3, roleEvidence: [{ role: 'swapped', kind: 'order', weight: 0.3, words: 'second of three clips' }] })) },

  { code: 'short-tail', severity: 'warn', what: 'a swapped pass shorter than the lead', on: soundScene(), plant: swapped(() => ({ frames: 226 })) },
  { code: 'short-head', severity: 'warn', what: 'a swapped pass that begins later', on: soundScene(),
    plant: (scene) => ({ ...scene, swapped: { ...scene.swapped, frames: 400 }, match: { swapped: { sync: { method: 'sync-mark', offset: -12, confidence: 1, words: 'mark' } } } }) },
  { code: 'no-overlap', severity: 'stop', what: 'a sync that lays the pass beside the lead', on: soundScene(),
    plant: (scene) => ({ ...scene, match: { swapped: { sync: { method: 'correction', offset: 5000, confidence: 1, words: 'by hand' } } } }) },
  { code: 'frame-gap', severity: 'stop', what: 'a hole in a sequence', on: sequence,
    plant: swapped((clip) => ({ frames: 237, sequence: { first: 1001, last: 1240, padding: 4, missing: [{ start: 1100, end: 1103 }] }, kind: clip.kind })) },
  { code: 'clean-plate-short', severity: 'stop', what: 'half a second of clean plate', on: soundScene(), alone: true, plant: (scene) => withPass(scene, 'clean', { frames: 12 }) },
  { code: 'clean-plate-short', severity: 'warn', what: 'a clean plate that ends before a move does', on: handheldScene(), plant: (scene) => withPass(scene, 'clean', { frames: 200 }) },
  { code: 'sync-assumed', severity: 'note', what: 'nothing says how the passes lie', on: soundScene(), alone: true,
    plant: (scene) => ({ ...scene, match: { ...scene.match, swapped: { ...scene.match['swapped'], sync: ASSUMED } } }) },
  { code: 'sync-assumed', severity: 'warn', what: 'nothing says how the passes of a move lie', on: handheldScene(),
    plant: (scene) => ({ ...scene, match: { swapped: { sync: ASSUMED } } }) },

  { code: 'sync-contradicted', severity: 'warn', what: 'sound that says another offset than the marks', on: soundScene(),
    plant: (scene) => ({ ...scene, match: { ...scene.match, swapped: { ...scene.match['swapped'], sync: { method: 'sync-mark', offset: 0, confidence: 0.4, words: 'mark', contradictedBy: [{ method: 'guide-audio', offset: 12, confidence: 0.9, words: 'sound' }] } } } }) },
  { code: 'frame-rate-differs', severity: 'stop', what: 'a swapped pass at 25 fps', on: soundScene(), plant: swapped(() => AT_25) },
  { code: 'sensor-rate-differs', severity: 'stop', what: 'a sensor at 48 fps', on: soundScene(), alone: true, plant: swapped(() => ({ sensorRate: frameRate(48) })) },
  { code: 'sensor-rate-differs', severity: 'warn', what: 'a sensor rate written 23.976 beside 24', on: soundScene(), plant: swapped(() => ({ sensorRate: frameRate(24000, 1001) })) },
  { code: 'timecode-format-differs', severity: 'warn', what: 'non-drop beside drop frame', on: dropFrame,
    plant: swapped(() => ({ timecodeFormat: { base: 30, drop: false }, start: { frame: 1_095_000, format: { base: 30, drop: false } } })) },
  { code: 'shutter-differs', severity: 'warn', what: '172.8° beside 180°', on: soundScene(), alone: true, plant: exposure({ shutterDeg: chosen(172.8) }) },
  { code: 'length-disagrees', severity: 'warn', what: 'a report that says more frames', on: soundScene(), alone: true,
    plant: swapped(() => ({ statements: [{ field: 'frames', value: 300, raw: '300', source: source('frames') }] })) },

  { code: 'timecode-overlap', severity: 'warn', what: 'a clock set back between the passes', on: soundScene(),
    plant: (scene) => withPass(scene, 'swapped', { start: { frame: (scene.lead.start?.frame ?? 0) + 100, format: { base: 24, drop: false } } }) },
  { code: 'timecode-backwards', severity: 'warn', what: 'a clock set back an hour', on: soundScene(),
    plant: (scene) => withPass(scene, 'clean', { start: { frame: (scene.lead.start?.frame ?? 0) - 86_400, format: { base: 24, drop: false } } }) },

  { code: 'lens-differs', severity: 'stop', what: 'another lens of that focal length', on: soundScene(), alone: true, plant: lens({ serial: chosen('CP-3511') }) },
  { code: 'focal-length-differs', severity: 'warn', what: '35.5 mm beside 35 mm', on: soundScene(), alone: true, plant: lens({ focalLengthMm: chosen(35.5) }) },
  { code: 'focus-differs', severity: 'warn', what: 'focus at 3.2 m beside 3 m', on: soundScene(), alone: true, plant: lens({ focusDistanceM: chosen(3.2) }) },
  { code: 'stop-differs', severity: 'warn', what: 'T3.2 beside T2.8', on: soundScene(), alone: true, plant: lens({ stop: chosen({ kind: 'T', number: 3.2 }, 'T3.2') }) },
  { code: 'filter-differs', severity: 'stop', what: 'ND.3 beside ND.6', on: soundScene(), alone: true, plant: lens({ filters: chosen({ text: 'ND.3', ndDensity: 0.3 }, 'ND.3') }) },
  { code: 'filter-differs', severity: 'warn', what: 'a diffusion filter more', on: soundScene(), plant: lens({ filters: chosen({ text: 'BPM 1/4, ND.6', ndDensity: 0.6 }) }) },
  { code: 'squeeze-differs', severity: 'stop', what: 'an anamorphic beside a spherical', on: soundScene(), alone: true, plant: lens({ squeeze: chosen(1.8) }) },
  { code: 'not-on-record', severity: 'warn', what: 'nobody noted anything of the lens', on: soundScene(), plant: swapped(() => ({ lens: {} })) },

  { code: 'raster-differs', severity: 'stop', what: 'another raster', on: soundScene(), alone: true, plant: picture({ raster: chosen({ width: 3840, height: 2160 }, '3840 x 2160', 'embedded') }) },
  { code: 'sensitivity-differs', severity: 'warn', what: 'EI 1000 beside 800', on: soundScene(), alone: true, plant: exposure({ ei: chosen(1000) }) },
  { code: 'white-balance-differs', severity: 'warn', what: '5200 K beside 5600 K', on: soundScene(), alone: true, plant: exposure({ whiteBalanceK: chosen(5200) }) },
  { code: 'codec-differs', severity: 'warn', what: 'another codec', on: soundScene(), alone: true, plant: picture({ codec: chosen('Wavelet 422', 'Wavelet 422', 'embedded') }) },
  { code: 'camera-differs', severity: 'warn', what: 'another body', on: soundScene(), alone: true, plant: picture({ cameraSerial: chosen('1311', '1311', 'embedded') }) },

  { code: 'height-differs', severity: 'stop', what: '15 mm higher', on: soundScene(), alone: true, plant: position({ heightM: chosen(1.515) }) },
  { code: 'tilt-differs', severity: 'warn', what: 'half a degree of tilt', on: soundScene(), alone: true, plant: position({ tiltDeg: chosen(-2.5) }) },
  { code: 'roll-differs', severity: 'warn', what: 'half a degree of roll', on: soundScene(), alone: true, plant: position({ rollDeg: chosen(0.5) }) },
  { code: 'position-differs', severity: 'warn', what: 'the background 5 cm farther', on: soundScene(), alone: true, plant: position({ backgroundDistanceM: chosen(6.05) }) },
  { code: 'move-differs', severity: 'warn', what: 'a handheld move without marks', on: handheldScene(), plant: (scene) => ({ ...scene, day: {} }) },
];

function withoutStart(clip: Clip): Clip {
  const { start: _start, ...rest } = clip;
  return rest;
}

function unusable(clip: Clip, code: FindingCode): Clip {
  const problem = { code, severity: code === 'still-growing' ? 'warn' : 'stop', file: clip.file, place: '', found: 'half of it', expected: 'a whole clip', remedy: 'copy it again' } as const;
  return { ...clip, usable: false, complete: false, problems: [problem] };
}

function leftOver(scene: Scene, clip: Clip, why: string): Scene {
  return { ...scene, more: [clip], leftOver: [{ clip: clip.id, why }] };
}
