import type { Clip } from '../../../src/core/material/clip.ts';
import type { ShotRow } from '../../../src/core/material/shot-list.ts';
import type { FrameRate } from '../../../src/core/timecode/rate.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import type { TimecodeFormat } from '../../../src/core/timecode/timecode.ts';
import { parseLabel } from '../../../src/core/timecode/timecode.ts';

export interface LeadFacts {
  readonly label?: string;
  readonly frames?: number;
  readonly rate?: FrameRate;
  readonly format?: TimecodeFormat;
  readonly take?: number;
  readonly scene?: string;
  readonly setUp?: string;
  readonly prefix?: string;
  readonly camera?: string;
  readonly sequence?: Clip['sequence'];
}

/** A clip of set-up 27B on camera A, at 24 fps unless said otherwise; without `label` it has no timecode. */
export function takeOf(id: string, facts: LeadFacts = {}): Clip {
  const { label, frames, rate = frameRate(24), format = { base: 24, drop: false }, take = 3, scene = '27', setUp = 'B', prefix = '', camera = 'A', sequence } = facts;
  return {
    id, file: id, kind: 'movie', usable: true, complete: true, completeness: '', decodable: true, sizeBytes: 1, camera,
    slate: { scene, setUp, take, pickUp: false, series: false, prefix, suffix: '', text: `${scene}${setUp} take ${take}` },
    role: 'lead', roleEvidence: [], roleConfidence: 1, notes: [], rate,
    ...(label === undefined ? {} : { start: parseLabel(label, format), timecodeFormat: format }),
    ...(frames === undefined ? {} : { frames }),
    ...(sequence === undefined ? {} : { sequence }),
    lens: {}, exposure: {}, position: {}, picture: {}, tracks: [], statements: [], disagreements: [], problems: [],
  };
}

/** A row of the shot list for set-up 27B. */
export function shotRow(facts: Partial<ShotRow> = {}): ShotRow {
  return { shot: 'SMR_0270', slate: '27B', handles: {}, from: 'lists/shots.csv line 4', ...facts };
}
