import { describe, expect, it } from 'vitest';
import type { ReadClip } from '../../../src/core/material/clip.ts';
import type { ClipNote } from '../../../src/core/material/day.ts';
import type { ResolvedClip } from '../../../src/core/material/resolve-clip.ts';
import { resolveClip } from '../../../src/core/material/resolve-clip.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import type { Facts } from '../../support/make-clips.ts';
import { readClip, reportRow, sidecar, statement } from '../../support/make-clips.ts';

const FILE = 'A003C012.mov';
const TOLERANCES = { sourcesPercent: 2, lengthFrames: 1 };

function resolve(embedded: Facts, notes: readonly ClipNote[] = [], over: Partial<ReadClip> = {}): ResolvedClip {
  return resolveClip(readClip(FILE, embedded, over), notes.map((note) => ({ note, humanOnly: false })), [], TOLERANCES).clip;
}

function disagreements(clip: ResolvedClip): readonly string[] {
  return clip.disagreements.map(({ field, chosen, other }) => `${field}: ${chosen.raw} / ${other.raw}`);
}

describe('the order of trust', () => {
  it('is the file, the sidecar, the report for technical values', () => {
    const notes = [reportRow(2, { ei: 400, whiteBalance: 3200 }), sidecar('A003C012.xml', { ei: 640, whiteBalance: 4300 })];
    const { exposure } = resolve({ ei: 800 }, notes);
    expect(exposure.ei).toMatchObject({ value: 800, source: { kind: 'embedded' } });
    expect(exposure.whiteBalanceK).toMatchObject({ value: 4300, source: { kind: 'sidecar' } });
  });

  it('is the report, the sidecar, the file for what people decide', () => {
    const notes = [reportRow(2, { circled: true }), sidecar('A003C012.xml', { circled: false, method: 'moco' })];
    expect(resolve({ circled: false, method: 'split' }, notes)).toMatchObject({ circled: true, method: 'moco' });
  });

  it('does not depend on the order of sources of one kind', () => {
    const notes = [reportRow(10, { ei: 400 }, 'b.csv'), reportRow(9, { ei: 500 }, 'a.csv'), reportRow(10, { ei: 640 }, 'a.csv')];
    const forwards = resolve({}, notes);
    expect(forwards.exposure.ei?.source).toEqual({ kind: 'report', file: 'a.csv', place: 'line 9, column ei' });
    expect(resolve({}, notes.toReversed())).toEqual(forwards);
  });

  it('keeps every statement', () => {
    const clip = resolve({ ei: 800 }, [reportRow(2, { ei: 400 })]);
    expect(clip.statements.filter(({ field }) => field === 'ei').map(({ value }) => value)).toEqual([800, 400]);
  });
});

describe('sources that disagree', () => {
  it.each<[string, Facts, Facts]>([
    ['ei', { ei: 800 }, { ei: 400 }],
    ['focalLength', { focalLength: 35 }, { focalLength: 36 }],
    ['fps', { fps: frameRate(24) }, { fps: frameRate(24000, 1001) }],
    ['lens', { lens: 'Prime 50mm T1.5' }, { lens: 'Prime 40mm T1.5' }],
    ['lensSerial', { lensSerial: '7032' }, { lensSerial: '7033' }],
    ['camera', { camera: 'A' }, { camera: 'B' }],
    ['stop', { stop: { kind: 'T', number: 2.8 } }, { stop: { kind: 'T', number: 4 } }],
    ['raster', { raster: { width: 4096, height: 2160 } }, { raster: { width: 3840, height: 2160 } }],
    ['shutter', { shutter: { kind: 'angle', degrees: 180 } }, { shutter: { kind: 'angle', degrees: 172.8 } }],
    ['filters', { filters: { text: 'ND.6', ndDensity: 0.6 } }, { filters: { text: 'ND.3', ndDensity: 0.3 } }],
    ['tcIn', { tcIn: '10:00:00:00' }, { tcIn: '10:00:00:01' }],
    ['frames', { frames: 240 }, { frames: 236 }],
    ['tilt', { tilt: -3.1 }, { tilt: -5 }],
    ['date', { date: '2026-11-25' }, { date: '20261126' }],
    ['roll', { roll: 'A003' }, { roll: 'A004' }],
  ])('about %s are found, once', (field, embedded, reported) => {
    const clip = resolve(embedded, [reportRow(2, reported)]);
    expect(clip.disagreements.map((each) => each.field)).toEqual([field]);
  });

  it.each<[string, Facts, Facts]>([
    ['a rounded focal length', { focalLength: 35 }, { focalLength: 35.02 }],
    ['a printed stop, which is rounded (11 is 11.31)', { stop: { kind: 'T', number: 11.3137 } }, { stop: { kind: 'T', number: 11 } }],
    ['a T-stop and the f-number of one lens', { stop: { kind: 'f', number: 2.6 } }, { stop: { kind: 'T', number: 2.8 } }],
    ['an angle and its time', { shutter: { kind: 'angle', degrees: 180 }, sensorFps: frameRate(24) }, { shutter: { kind: 'time', seconds: 1 / 48 } }],
    ['focus at infinity twice', { focusDistance: Infinity }, { focusDistance: Infinity }],
    ['a tilt rounded to whole degrees', { tilt: -3.1 }, { tilt: -3 }],
    ['a lens with its maker before it', { lens: 'ARRI SP40 T1.8' }, { lens: 'sp40' }],
    ['a lens with its words in another order', { lens: 'SIGMA 40mm T1.5 FF' }, { lens: 'Sigma FF 40mm' }],
    ['two names of one serial', { lens: 'S7i-32', lensSerial: '7032' }, { lens: 'Thirty-two', lensSerial: '7032.0100' }],
    ['a camera letter in lower case', { camera: 'A' }, { camera: 'a cam' }],
    ['":" for ";" in a report', { fps: frameRate(30000, 1001), tcIn: '10:00:00;00' }, { tcIn: '10:00:00:00' }],
    ['codecs in the words of two programs', { codec: 'ap4h' }, { codec: 'ProRes 4444' }],
    ['a filter with a density and one without', { filters: { text: 'Clear', ndDensity: 0 } }, { filters: { text: 'Pola' } }],
    ['a camera that nobody told of the circle', { circled: false }, { circled: true }],
    ['a length within a frame', { frames: 240 }, { frames: 241 }],
    ['a bare roll number', { roll: '003' }, { roll: 'A003' }],
    ['a date in two spellings', { date: '2026-11-25' }, { date: '2026/11/25' }],
    ['a date whose day and month cannot be told apart', { date: '2026-11-25' }, { date: '25/11/2026' }],
  ])('are not found in %s', (_what, embedded, reported) => {
    expect(disagreements(resolve(embedded, [reportRow(2, reported)]))).toEqual([]);
  });

  it('believes the pictures counted over any stated number of them', () => {
    const clip = resolve({ frames: 200 }, [reportRow(2, { frames: 240 })], { frames: 240 });
    expect(clip.frames).toBe(240);
    expect(disagreements(clip)).toEqual(['frames: 240 / 200']);
  });
});

describe('exposure', () => {
  it('turns a shutter time into degrees at the sensor rate: 1/48 s at 48 fps is 360°', () => {
    const clip = resolve({ fps: frameRate(24), sensorFps: frameRate(48), shutter: { kind: 'time', seconds: 1 / 48 } });
    expect(clip.exposure.shutterDeg?.value).toBeCloseTo(360, 9);
  });

  it('uses the rate of the file where no sensor rate is stated, and says so', () => {
    const read = readClip(FILE, {});
    const shutter = statement('shutter', { kind: 'time', seconds: 1 / 50 }, { kind: 'report', file: 'r.csv', place: 'line 2' }, '1/50');
    const { clip } = resolveClip(read, [], [shutter], TOLERANCES);
    expect(clip.exposure.shutterDeg?.value).toBeCloseTo(172.8, 9);
    expect(clip.exposure.shutterDeg?.raw).toBe("1/50 (at the file's 24 fps: no sensor rate is stated)");
  });
});

describe('timecode', () => {
  const DF = frameRate(30000, 1001);

  function start(facts: Facts, notes: readonly ClipNote[] = []): string | undefined {
    const clip = resolve(facts, notes);
    return clip.start === undefined ? undefined : formatTimecode(clip.start);
  }

  it('is drop frame by the flag before the separator', () => {
    expect(start({ fps: DF, tcIn: '10:00:00:00', dropFrame: true })).toBe('10:00:00;00');
    expect(start({ fps: DF, tcIn: '10:00:00;00', dropFrame: false })).toBe('10:00:00:00');
    expect(start({ fps: DF, tcIn: '10:00:00;00' })).toBe('10:00:00;00');
    expect(start({ fps: DF, tcIn: '10:00:00:00' })).toBe('10:00:00:00');
  });

  it('is read in the format of the file, however the report writes it', () => {
    const { start: first } = resolve({ fps: DF, dropFrame: true }, [reportRow(2, { tcIn: '01:00:00:00' })]);
    // ST 12-1 drop frame: 107892 labels an hour at 29.97 fps.
    expect(first?.frame).toBe(107_892);
  });

  it('counts 25 labels a second on a 50 fps file that says so', () => {
    const clip = resolve({ fps: frameRate(50), timecodeRate: frameRate(25), tcIn: '00:00:01:00' });
    expect(clip.start).toEqual({ frame: 25, format: { base: 25, drop: false } });
  });

  it.each<[string, Facts, string]>([
    ['a label that drop frame leaves out', { fps: DF, dropFrame: true, tcIn: '00:01:00;00' }, 'does not exist in drop frame'],
    ['a frame beyond the rate', { tcIn: '10:00:00:24' }, 'frame 24 does not exist'],
    ['drop frame at a rate that has none', { tcIn: '10:00:00;00' }, 'there is no drop frame at this rate'],
    ['a timecode out that does not exist', { tcIn: '10:00:00:00', tcOut: '10:00:70:00' }, 'second 70 is beyond 59'],
  ])('tells of %s, naming where and why', (_what, facts, why) => {
    const [problem] = resolve(facts).problems;
    expect(problem).toMatchObject({ code: 'unreadable-value', severity: 'warn', file: FILE });
    expect(problem?.expected).toContain(why);
  });

  it('goes on to the next source when a label does not exist', () => {
    expect(start({ tcIn: '10:00:00:24' }, [reportRow(2, { tcIn: '10:00:01:00' })])).toBe('10:00:01:00');
  });

  it('tells of a flag that the rate cannot have', () => {
    expect(resolve({ dropFrame: true, tcIn: '10:00:00:00' }).problems[0]?.expected).toContain('does not exist at 24 fps');
  });

  it('is no point in time without a rate', () => {
    const read = readClip(FILE, { tcIn: '10:00:00:00' });
    const { clip } = resolveClip({ ...read, statements: read.statements.filter(({ field }) => field !== 'fps') }, [], [], TOLERANCES);
    expect(clip.start).toBeUndefined();
    expect(clip.problems).toMatchObject([{ found: '10:00:00:00', remedy: 'state the frame rate in the report or a sidecar' }]);
  });
});

describe('who and where', () => {
  it('takes camera, roll and clip from the name of the clip when nothing else tells', () => {
    const read = readClip('day01/B007C021_261125_R7QK.mov');
    const { clip } = resolveClip({ ...read, statements: [] }, [], [], TOLERANCES);
    expect([clip.camera, clip.roll, clip.clip]).toEqual(['B', 'B007', 'C021']);
  });

  it('takes the letter from metadata before the name', () => {
    expect(resolve({ camera: 'B cam' }).camera).toBe('B');
  });

  it('keeps what speaks of the take alone from a row that does not know the camera', () => {
    const row = reportRow(2, { pass: 'lead', notes: 'good', lens: 'Prime 35' });
    const { clip } = resolveClip(readClip(FILE), [{ note: row, humanOnly: true }], [], TOLERANCES);
    expect([clip.notes, clip.lens.model]).toEqual([['good'], undefined]);
  });
});
