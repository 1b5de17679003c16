import type { RecordedMove, TrackedCamera, TrackedSample } from '../../src/core/material/tracked-move.ts';
import { quaternionOf } from '../../src/core/optics/moves/quaternion.ts';
import { orientation } from '../../src/core/optics/projection.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import { parseLabel } from '../../src/core/timecode/timecode.ts';
import { LABELS_24 } from './make-sets.ts';

/** Where an invented camera is at a frame: mm to the right, up and ahead, degrees of pan and tilt. */
export interface MadePose {
  readonly right?: number;
  readonly up?: number;
  readonly ahead?: number;
  readonly panDeg?: number;
  readonly tiltDeg?: number;
}

export interface MoveWish {
  readonly file: string;
  /** Label of the first sample at 24 a second. */
  readonly at: string;
  readonly frames?: number;
  readonly camera?: TrackedCamera;
  readonly pose?: (frame: number) => MadePose;
  readonly lens?: (frame: number) => Partial<TrackedSample>;
}

/** A move at 24 samples a second under a 35 mm lens; a slow dolly with a pan that eases in and out, unless asked otherwise. */
export function makeMove({ file, at, frames = 48, camera = {}, pose = dolly, lens = () => ({}) }: MoveWish): RecordedMove {
  const start = parseLabel(at, LABELS_24).frame;
  const samples = Array.from({ length: frames }, (_, frame): TrackedSample => {
    const { right = 0, up = 0, ahead = 0, panDeg = 0, tiltDeg = 0 } = pose(frame);
    return { frame: start + frame, xMm: right, yMm: -up, zMm: ahead, ...quaternionOf(orientation({ panDeg, tiltDeg, rollDeg: 0 })), ...lens(frame) };
  });
  const slash = file.lastIndexOf('/');
  return {
    source: 'tracker', rate: frameRate(24), counted: 'timecode', format: LABELS_24, samples, holes: [], camera,
    file, folder: file.slice(0, Math.max(0, slash)), stem: file.slice(slash + 1).replace(/\.[^.]*$/u, ''),
  };
}

/** 35 cm to the right and 6° round in two seconds. */
export function dolly(frame: number): MadePose {
  const share = Math.min(1, Math.max(0, frame / 47));
  const eased = share * share * (3 - 2 * share);
  return { right: 350 * eased, up: 1200, panDeg: -6 * eased };
}
