import { describe, expect, it } from 'vitest';
import { pathOf } from '../../../src/formats/otio/media.ts';
import { parseOtio } from '../../../src/formats/otio/parse-otio.ts';

// Schemas, required keys and the time model: the C++ reader and documentation of OpenTimelineIO 0.18/0.19
// (github.com/AcademySoftwareFoundation/OpenTimelineIO, Apache-2.0).

type Json = Readonly<Record<string, unknown>>;

const time = (value: unknown, rate: unknown = 24): Json => ({ OTIO_SCHEMA: 'RationalTime.1', rate, value });
const span = (start: unknown, duration: unknown, rate: unknown = 24): Json => ({ OTIO_SCHEMA: 'TimeRange.1', start_time: time(start, rate), duration: time(duration, rate) });
const file = (url: string, available: Json | null = null): Json => ({ OTIO_SCHEMA: 'ExternalReference.1', target_url: url, available_range: available });
const clip = (name: string, range: Json | null, more: Json = {}): Json => ({ OTIO_SCHEMA: 'Clip.2', name, source_range: range, media_references: { DEFAULT_MEDIA: file(`${name}.mov`) }, active_media_reference_key: 'DEFAULT_MEDIA', ...more });
const gap = (frames: number): Json => ({ OTIO_SCHEMA: 'Gap.1', source_range: span(0, frames) });
const track = (children: readonly Json[], more: Json = {}): Json => ({ OTIO_SCHEMA: 'Track.1', kind: 'Video', children, ...more });
const stack = (children: readonly Json[], more: Json = {}): Json => ({ OTIO_SCHEMA: 'Stack.1', children, ...more });
const timeline = (children: readonly Json[], start: Json | null = null): string => JSON.stringify({ OTIO_SCHEMA: 'Timeline.1', name: 'R1', global_start_time: start, tracks: stack(children) });
const dissolve = (into: number, out: number): Json => ({ OTIO_SCHEMA: 'Transition.1', transition_type: 'SMPTE_Dissolve', in_offset: time(into), out_offset: time(out) });
const warp = (scalar: unknown): Json => ({ OTIO_SCHEMA: 'LinearTimeWarp.1', effect_name: 'LinearTimeWarp', time_scalar: scalar });

const parse = (text: string) => parseOtio(text, { file: 'cut_v1.otio' });
const laid = (text: string) => parse(text).events.map(({ clipName, track: on, record, source }) => [clipName, on, record.start, record.end, source.range.start, source.range.end]);
const said = (text: string) => parse(text).problems.map(({ place, found }) => `${place}: ${found}`);

describe('a timeline', () => {
  it('lays its tracks over each other from its start timecode, the first at the bottom', () => {
    const text = timeline([track([gap(4), clip('clean', span(100, 20))]), track([clip('lead', span(500, 24))]), track([clip('sound', span(0, 9))], { kind: 'Audio' })], time(86_400));
    expect(laid(text)).toEqual([['clean', 'V1', 86_404, 86_424, 100, 120], ['lead', 'V2', 86_400, 86_424, 500, 524]]);
    expect(parse(text)).toMatchObject({ title: 'R1', rate: { num: 24, den: 1 }, skipped: 0, problems: [], gaps: [{ track: 'V1', frames: 4 }] });
  });

  it('knows the exact rate behind the doubles that files carry', () => {
    expect(parse(timeline([track([clip('a', span(0, 10, 23.976023976023978))])])).rate).toEqual({ num: 24_000, den: 1001 });
    expect(parse(timeline([track([clip('a', span(0, 10, 23.976))])])).rate).toEqual({ num: 24_000, den: 1001 });
  });

  it('takes a clip without a range of its own for all there is of its media', () => {
    const media = { media_references: { x: file('a.mov', span(50, 10)) }, active_media_reference_key: 'x' };
    expect(laid(timeline([track([clip('a', null, media)])]))).toEqual([['a', 'V1', 0, 10, 50, 60]]);
  });

  it('reads clips of the old kind, with one reference or none', () => {
    const old = (media: Json | null): Json => ({ OTIO_SCHEMA: 'Clip.1', name: 'a', source_range: span(5, 10), media_reference: media });
    expect(parse(timeline([track([old(null), old(file('file://localhost/D%3a/day%204/a.mov'))])])).events.map(({ sourceFile }) => sourceFile)).toEqual([undefined, '/D:/day 4/a.mov']);
  });

  it('reads image sequences with their first number and available range apart', () => {
    const media = { OTIO_SCHEMA: 'ImageSequenceReference.1', target_url_base: 'file:///plates', name_prefix: 'A.', name_suffix: '.exr', start_frame: 1001, frame_step: 1, rate: 24, frame_zero_padding: 4, missing_frame_policy: 'error', available_range: span(86_400, 48) };
    const [event] = parse(timeline([track([clip('A', span(86_410, 10), { media_references: { DEFAULT_MEDIA: media } })])])).events;
    expect(event).toMatchObject({ sourceFile: '/plates/A.####.exr', source: { firstNumber: 1001, available: { start: 86_400, end: 86_448 }, counting: 'frames' } });
  });

  it('trims what is nested: inner time 0 lies at the outer position, less the start of the inner range', () => {
    const inner = stack([track([clip('a', span(0, 10)), clip('b', span(100, 10))])], { source_range: span(6, 8) });
    expect(laid(timeline([track([clip('first', span(0, 20)), inner, clip('last', span(0, 5))])]))).toEqual([
      ['first', 'V1', 0, 20, 0, 20], ['a', 'V1', 20, 24, 6, 10], ['b', 'V1', 24, 28, 100, 104], ['last', 'V1', 28, 33, 0, 5],
    ]);
  });

  it('keeps the layers of a nested stack apart', () => {
    const nested = stack([track([clip('lead', span(0, 10))]), track([clip('swapped', span(3, 10))])]);
    expect(laid(timeline([track([nested])])).map(([name, on]) => [name, on])).toEqual([['lead', 'V1.1'], ['swapped', 'V1.2']]);
  });

  it('shows more of the neighbours of a transition, which itself takes no time', () => {
    const { events } = parse(timeline([track([clip('a', span(10, 20)), dissolve(3, 5), clip('b', span(50, 20))])]));
    expect(events.map(({ record, dissolve: seen, transition }) => [record, seen, transition])).toEqual([
      [{ start: 0, end: 20 }, { head: 0, tail: 5 }, undefined], [{ start: 20, end: 40 }, { head: 3, tail: 0 }, 'dissolve of 8 frames at its head'],
    ]);
  });

  it('uses of the media what a time warp takes, and one frame for a freeze', () => {
    const { events } = parse(timeline([track([clip('twice', span(100, 10), { effects: [warp(2)] }), clip('back', span(100, 10), { effects: [warp(-1)] }), clip('held', span(100, 10), { effects: [{ ...warp(0), OTIO_SCHEMA: 'FreezeFrame.1' }] })])]));
    expect(events.map(({ retime, source, record }) => [retime?.kind, source.range, record.end - record.start])).toEqual([
      ['speed', { start: 100, end: 119 }, 10], ['speed', { start: 100, end: 110 }, 10], ['freeze', { start: 100, end: 101 }, 10],
    ]);
  });

  it('marks what is switched off and keeps its time', () => {
    const text = timeline([track([clip('off', span(0, 10), { enabled: false }), clip('on', span(0, 10))]), track([clip('under', span(0, 5))], { enabled: false })]);
    expect(parse(text).events.map(({ clipName, disabled, record }) => [clipName, disabled, record.start])).toEqual([['off', true, 0], ['on', false, 10], ['under', true, 0]]);
  });

  it('puts markers on frames of the cut: those of clips in source time, those of tracks in their own', () => {
    const marker = (version: number, key: string, at: number, name: string): Json => ({ OTIO_SCHEMA: `Marker.${version}`, name, [key]: span(at, 0) });
    const text = timeline([track([clip('a', span(1000, 10), { markers: [marker(1, 'range', 1004, 'old'), marker(3, 'marked_range', 1006, 'new')] })], { markers: [marker(2, 'marked_range', 2, 'SMR_010')] })], time(86_400));
    expect(parse(text).events[0]?.markers).toEqual([{ frame: 86_404, text: 'old' }, { frame: 86_406, text: 'new' }, { frame: 86_402, text: 'SMR_010' }]);
  });

  it('reads reel, comments and colour values that edit list converters leave in the metadata', () => {
    const metadata = { cmx_3600: { reel: 'A014C002', comments: ['SMR_027_0100'] }, cdl: { asc_sat: 0.9, asc_sop: { slope: [1, 1, 1], offset: [0, 0, 0], power: [1, 1, 1.1] } } };
    expect(parse(timeline([track([clip('a', span(0, 10), { metadata })])])).events[0]).toMatchObject({ reel: 'A014C002', comments: ['SMR_027_0100'], cdl: { saturation: 0.9, power: [1, 1, 1.1] } });
  });

  it('may be in a collection, in a list, or no more than a clip', () => {
    const one = JSON.parse(timeline([track([clip('a', span(0, 10))])]));
    for (const value of [{ OTIO_SCHEMA: 'SerializableCollection.1', children: [one] }, [one], stack([track([clip('a', span(0, 10))])]), clip('a', span(0, 10))]) {
      expect(laid(JSON.stringify(value)).map(([name]) => name)).toEqual(['a']);
    }
  });

  it('of old names is read: Sequence.1 and Filler.1', () => {
    const old = { OTIO_SCHEMA: 'Sequence.1', kind: 'Video', children: [{ OTIO_SCHEMA: 'Filler.1', source_range: span(0, 5) }, clip('a', span(0, 10))] };
    expect(laid(timeline([old])).map(([name, , start]) => [name, start])).toEqual([['a', 5]]);
  });

  it('whose track range lies wholly before 0 begins there in the cut, as converters of edit lists write it', () => {
    expect(laid(timeline([track([clip('a', span(0, 10))], { source_range: span(-86_243, 10) })]))).toEqual([['a', 'V1', 86_243, 86_253, 0, 10]]);
  });
});

describe('a damaged timeline', () => {
  it.each([
    ['schemas that are not known', [{ OTIO_SCHEMA: 'Wipe.7', source_range: span(0, 5) }], 'tracks/0/0: schema Wipe.7'],
    ['children without a schema', [{ name: 'x' }], 'tracks/0/0: a child without a schema'],
    ['a rate of zero', [clip('a', span(0, 5, 0))], 'tracks/0/0/source_range: rate 0'],
    ['a negative duration', [clip('a', span(0, -5))], 'tracks/0/0/source_range: duration -5'],
    ['a clip of no length', [clip('a', null)], 'tracks/0/0: a clip without source_range and available_range'],
    ['an active reference that is absent', [clip('a', span(0, 5), { active_media_reference_key: 'proxy' })], 'tracks/0/0: no media reference "proxy"'],
    ['several time effects', [clip('a', span(0, 5), { effects: [warp(2), warp(2)] })], 'tracks/0/0: 2 time effects on one item'],
    ['an effect that is not known', [clip('a', span(0, 5), { effects: [{ OTIO_SCHEMA: 'Ramp.1' }] })], 'tracks/0/0: effect Ramp.1'],
    ['two transitions side by side', [clip('a', span(0, 5)), dissolve(1, 1), dissolve(1, 1), clip('b', span(0, 5))], 'tracks/0/1: two transitions side by side'],
    ['a time warp on a stack', [stack([track([clip('a', span(0, 5))])], { source_range: span(0, 5), effects: [warp(2)] })], 'tracks/0/0: 200 % speed on a stack'],
  ])('tells %s with the place, and reads the rest', (_what, children, expected) => {
    const text = timeline([track([...children, clip('after', span(0, 7))])]);
    expect(said(text)).toContain(expected);
    expect(laid(text).map(([name]) => name)).toContain('after');
  });

  it('gives what is not known its time, so that the rest lies where it did', () => {
    expect(laid(timeline([track([{ OTIO_SCHEMA: 'Wipe.7', source_range: span(0, 5) }, clip('after', span(0, 7))])]))).toEqual([['after', 'V1', 5, 12, 0, 7]]);
  });

  it('may carry numbers that are none, in metadata without harm and in a range with a problem', () => {
    const text = timeline([track([clip('NaN, Inf', span(0, 5), { metadata: { big: '@1', none: '@2' } }), clip('b', span('@3', 5))])]).replace('"@1"', '-Infinity').replace('"@2"', 'NaN').replace('"@3"', 'Inf');
    expect(() => JSON.parse(text)).toThrow(SyntaxError);
    expect(laid(text).map(([name]) => name)).toContain('NaN, Inf');
    expect(said(text)).toEqual(['tracks/0/1/source_range: value Inf', 'tracks/0/1: a clip without source_range and available_range']);
  });

  it.each(['', '{', 'no json', '[]', '{}', '7', 'null', '{"OTIO_SCHEMA":"Marker.2"}', '{"OTIO_SCHEMA":"Timeline.1"}'])('that is none gives no event and a problem: %j', (text) => {
    expect(parse(text).events).toEqual([]);
    expect(parse(text).problems).toHaveLength(1);
  });

  it('of 10,000 levels is told, and does not end the run', () => {
    const levels = 10_000;
    const text = `{"OTIO_SCHEMA":"Timeline.1","tracks":${'{"OTIO_SCHEMA":"Stack.1","children":['.repeat(levels)}${']}'.repeat(levels)}}`;
    expect(said(text)).toHaveLength(1);
    expect(said(text)[0]).toContain('compositions nested more than 100 deep');
  });

  it('of many faults tells the first of them and how many more there are', () => {
    const cut = parse(timeline([track(Array.from({ length: 5000 }, (_, index) => clip(`c${index}`, null)))]));
    expect(cut.problems.length).toBeLessThan(250);
    expect(cut.problems.at(-1)?.found).toBe('4800 more places that cannot be read');
  });
});

describe('a path in a timeline', () => {
  it.each([['file:///abs/a%20b.mov', '/abs/a b.mov'], ['file://localhost/D%3a/a.mov', '/D:/a.mov'], ['/abs/100%.mov', '/abs/100%.mov'], ['..\\rel\\a.mov', '../rel/a.mov'], ['file:///bad%zz.mov', '/bad%zz.mov']])('%s is %s', (url, path) => {
    expect(pathOf(url)).toBe(path);
  });
});
