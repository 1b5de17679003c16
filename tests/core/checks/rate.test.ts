import { describe, expect, it } from 'vitest';
import { checkLength } from '../../../src/core/checks/length.ts';
import { checkRate, checkShowRate } from '../../../src/core/checks/rate.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Statement } from '../../../src/core/material/statement.ts';
import type { FrameRate } from '../../../src/core/timecode/rate.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseLabel } from '../../../src/core/timecode/timecode.ts';
import { makeClip } from '../../support/make-clips.ts';
import { chosen } from '../../support/make-matched.ts';
import { given, passesOf } from './make-passes.ts';
import { said } from '../../steps/check/scene.ts';

const FILM = frameRate(24000, 1001);
const rates = (rate: FrameRate, sensorRate?: FrameRate): Partial<Clip> => ({ rate, ...(sensorRate === undefined ? {} : { sensorRate }) });

function found(lead: Partial<Clip>, pass: Partial<Clip>): readonly string[] {
  return said(checkRate(...given(passesOf(lead, pass))));
}

describe('rates', () => {
  it('are exact: 23.976 is not 24, and no float decides', () => {
    expect(found(rates(FILM), rates(frameRate(24)))).toEqual(['frame-rate-differs stop']);
    expect(found(rates(FILM), rates(frameRate(48000, 2002)))).toEqual([]);
  });

  it('of the file are one fault when the sensor follows it', () => {
    expect(found(rates(frameRate(24), frameRate(24)), rates(frameRate(25), frameRate(25)))).toEqual(['frame-rate-differs stop']);
  });

  it('of file and sensor are two faults when the sensor does not', () => {
    expect(found(rates(frameRate(24), frameRate(24)), rates(frameRate(25), frameRate(50)))).toEqual(['frame-rate-differs stop', 'sensor-rate-differs stop']);
  });

  it('of the sensor differ although the files agree', () => {
    expect(found(rates(frameRate(24), frameRate(48)), rates(frameRate(24), frameRate(24)))).toEqual(['sensor-rate-differs stop']);
  });

  it('of the sensor written 24 beside 23.976 ask a person to look', () => {
    expect(found(rates(FILM, FILM), rates(FILM, frameRate(24)))).toEqual(['sensor-rate-differs warn']);
  });

  it('of the sensor are not guessed from the file', () => {
    expect(found(rates(frameRate(24)), rates(frameRate(24), frameRate(48)))).toEqual([]);
  });

  it('are measured in frames a second, the lead being what is allowed', () => {
    const [finding] = checkRate(...given(passesOf(rates(FILM), rates(frameRate(25)))));
    expect([finding?.measured, finding?.allowed]).toEqual([{ value: 25, unit: 'fps' }, { value: 23.976, unit: 'fps' }]);
  });
});

describe('the rate the show is cut at', () => {
  const lead = makeClip('A.mov', { rate: frameRate(25) });

  it('asks a person to look at a lead that plays at another', () => {
    expect(said(checkShowRate(lead, FILM))).toEqual(['frame-rate-differs warn']);
    expect(checkShowRate(lead, FILM)[0]?.consequence).toContain('A plays at 25 fps and the show is cut at 23.976 fps');
  });

  it('is not compared where the pipeline says none', () => {
    expect([checkShowRate(lead, undefined), checkShowRate(lead, frameRate(25))]).toEqual([[], []]);
  });
});

describe('the way timecode is counted', () => {
  const counted = (base: number, drop: boolean, rate: FrameRate): Partial<Clip> => ({ timecodeFormat: { base, drop }, rate });

  it('differs between drop frame and non-drop at one rate', () => {
    const ntsc = frameRate(30000, 1001);
    expect(found(counted(30, true, ntsc), counted(30, false, ntsc))).toEqual(['timecode-format-differs warn']);
  });

  it('is not a fault of its own where the rates differ', () => {
    expect(found(counted(24, false, frameRate(24)), counted(25, false, frameRate(25)))).toEqual(['frame-rate-differs stop']);
  });
});

describe('the shutter', () => {
  const shutter = (degrees: number): Partial<Clip> => ({ exposure: { shutterDeg: chosen(degrees) } });

  it('says what it does to blur and light', () => {
    const [finding] = checkRate(...given(passesOf(shutter(180), shutter(172.8))));
    // 172.8° is 1/50 s at 24 fps; log2(172.8 / 180) = -0.0589 stop, worked out by hand.
    expect(finding?.consequence).toContain('(moving things blur 4 % shorter and it is 0.06 stop darker)');
  });

  it('is allowed to be off by how a time is rounded: 1/48 s at 23.976 fps is 179.82°', () => {
    expect(found(shutter(180), shutter((360 * 24000) / 1001 / 48))).toEqual([]);
  });
});

describe('the length of a clip', () => {
  const format = { base: 24, drop: false };
  const tcOut = (label: string): Statement => ({ field: 'tcOut', value: label, raw: label, source: { kind: 'report', file: 'report.csv', place: 'line 4, column TC Out' } });
  const lengthOf = (over: Partial<Clip>, ...statements: readonly Statement[]): readonly string[] =>
    said(checkLength(makeClip('A.mov', { start: parseLabel('10:00:00:00', format), frames: 240, statements, ...over }), 1));

  it('may be told by the last frame or by the first after it', () => {
    expect([lengthOf({}, tcOut('10:00:09:23')), lengthOf({}, tcOut('10:00:10:00'))]).toEqual([[], []]);
  });

  it('may be off by the tolerance on either side of both', () => {
    expect([lengthOf({}, tcOut('10:00:09:22')), lengthOf({}, tcOut('10:00:10:01'))]).toEqual([[], []]);
    expect([lengthOf({}, tcOut('10:00:09:21')), lengthOf({}, tcOut('10:00:10:02'))]).toEqual([['length-disagrees warn'], ['length-disagrees warn']]);
  });

  it('crosses midnight', () => {
    expect(lengthOf({ start: parseLabel('23:59:55:00', format) }, tcOut('00:00:04:23'))).toEqual([]);
  });

  it('is counted in frames of the file where labels are half as many', () => {
    expect(lengthOf({ rate: frameRate(48), frames: 480 }, tcOut('10:00:10:00'))).toEqual([]);
  });

  it('may be told by the clock where the sensor ran fast', () => {
    // 96 frames a second for ten seconds: 960 pictures, while the clock in the report moved on by ten seconds.
    expect(lengthOf({ sensorRate: frameRate(96), frames: 960 }, tcOut('10:00:10:00'))).toEqual([]);
    expect(lengthOf({ sensorRate: frameRate(96), frames: 960 }, tcOut('10:00:40:00'))).toEqual([]);
    expect(lengthOf({ sensorRate: frameRate(96), frames: 960 }, tcOut('10:00:20:00'))).toEqual(['length-disagrees warn']);
  });

  it('counts the holes of a sequence in or out', () => {
    const sequence = { first: 1001, last: 1240, padding: 4, missing: [{ start: 1100, end: 1110 }] };
    const frames = (value: number): Statement => ({ field: 'frames', value, raw: String(value), source: { kind: 'report', file: 'report.csv', place: 'line 4' } });
    const over = { kind: 'sequence', frames: 230, sequence } as const;
    expect([lengthOf(over, frames(240)), lengthOf(over, frames(230)), lengthOf(over, frames(235))]).toEqual([[], [], ['length-disagrees warn']]);
  });

  it('is not told by a label that does not exist', () => {
    expect(lengthOf({}, tcOut('10:00:99:00'))).toEqual([]);
  });
});
