import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseEdl } from '../../../src/formats/edl/parse-edl.ts';

// How lists are written: read off the public sample lists and the reader of the open CMX 3600 adapter of OpenTimelineIO
// (github.com/OpenTimelineIO/otio-cmx3600-adapter, Apache-2.0); the lists here are written anew. SMPTE 258M was not at hand.

const at24 = { file: 'cut_v1.edl', rate: frameRate(24) };

function edl(...lines: readonly string[]): string {
  return ['TITLE: SALTMARSH R1', 'FCM: NON-DROP FRAME', ...lines].join('\r\n');
}

const ranges = (text: string, reading = at24) => parseEdl(text, reading).events.map(({ source, record }) => [source.range.start, source.range.end, record.start, record.end]);
const problems = (text: string, reading = at24) => parseEdl(text, reading).problems.map(({ place, found, severity }) => `${severity} ${place}: ${found}`);

describe('an edit list', () => {
  it('gives source and record ranges whose out is the first frame after', () => {
    const cut = parseEdl(edl('001  A014C002 V     C        09:15:31:12 09:15:33:04 01:00:00:00 01:00:01:16', '* FROM CLIP NAME:  A014C002_261124_K3QX', '*SOURCE FILE: D:\\day4\\A014C002.mov'), at24);
    expect(cut).toMatchObject({ title: 'SALTMARSH R1', skipped: 0, problems: [], gaps: [] });
    expect(cut.events).toMatchObject([{
      number: '001', place: 'line 3', track: 'V1', reel: 'A014C002', clipName: 'A014C002_261124_K3QX', sourceFile: 'D:/day4/A014C002.mov',
      source: { range: { start: 799_956, end: 799_996 } }, record: { start: 86_400, end: 86_440 },
    }]);
  });

  it.each([
    ['single spaces', '001 A1 V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00'],
    ['a reel of 28 characters', '000001  A014C002_261124_K3QX_LONGER_STILL V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00'],
    ['tabs and a space at either end', ' 001\tA1\tV\tC\t00:00:01:00\t00:00:02:00\t00:00:00:00\t00:00:01:00 '],
    ['plain frame numbers', '001  A1  V  C  24 48 0 24'],
    ['a byte order mark and a Ctrl-Z', '\uFEFF001 A1 V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00\n\u001A'],
    ['sound beside the picture', '001 A1 AA/V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00'],
  ])('is read with %s', (_what, line) => {
    expect(ranges(line)).toEqual([[24, 48, 0, 24]]);
    expect(problems(line)).toEqual([]);
  });

  it('keeps several picture tracks of one file apart and leaves sound alone', () => {
    const cut = parseEdl(edl(
      '001 A1 V2 C 00:00:03:00 00:00:04:00 01:00:00:00 01:00:01:00', '002 A1 V C 00:00:01:00 00:00:02:00 01:00:00:00 01:00:01:00', '003 A1 A2 C 00:00:01:00 00:00:02:00 01:00:00:00 01:00:01:00',
    ), at24);
    expect(cut.events.map(({ track, place }) => [track, place])).toEqual([['V1', 'line 4'], ['V2', 'line 3']]);
    expect(cut.skipped).toBe(0);
  });

  it('knows black and bars for filler, and AX for a clip without a reel', () => {
    const { events } = parseEdl(edl('001 BL V C 00:00:00:00 00:00:01:00 01:00:00:00 01:00:01:00', '002 AX V C 00:00:00:00 00:00:01:00 01:00:01:00 01:00:02:00', '* FROM CLIP NAME: x.mov'), at24);
    expect(events.map(({ content, reel, clipName }) => ({ content, reel, clipName }))).toEqual([{ content: 'filler', reel: undefined, clipName: undefined }, { content: 'clip', reel: undefined, clipName: 'x.mov' }]);
  });

  it('tells filler between events of a track by its length, in record order whatever the order of the lines', () => {
    const text = edl('002 A1 V C 00:00:01:00 00:00:02:00 00:00:01:16 00:00:02:16', '001 A1 V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00');
    expect(parseEdl(text, at24).gaps).toEqual([{ place: 'line 3', track: 'V1', frames: 16 }]);
  });

  it('takes a source across midnight when it is then as long as the record', () => {
    expect(ranges(edl('001 A1 V C 23:59:50:00 00:00:10:00 01:00:00:00 01:00:20:00'))).toEqual([[2_073_360, 2_073_840, 86_400, 86_880]]);
  });
});

describe('transitions', () => {
  const dissolve = edl(
    '001 A1 V C 01:00:04:05 01:00:04:14 01:00:00:00 01:00:00:09', '* FROM CLIP NAME: one',
    '002 WRONG V C 01:00:04:14 01:00:04:14 01:00:00:09 01:00:00:09', 'FCM: NON-DROP FRAME',
    '002 B1 V D 010 01:00:08:08 01:00:08:18 01:00:00:09 01:00:00:19', '* FROM CLIP NAME: one', '* TO CLIP NAME: two', 'EFFECTS NAME IS CROSS DISSOLVE',
  );

  it('need the outgoing source for as long as they last, whatever reel their first line names', () => {
    const { events, problems: none } = parseEdl(dissolve, at24);
    expect(none).toEqual([]);
    expect(events.map(({ clipName, dissolve: seen, transition }) => ({ clipName, seen, transition }))).toEqual([
      { clipName: 'one', seen: { head: 0, tail: 10 }, transition: undefined },
      { clipName: 'two', seen: { head: 0, tail: 0 }, transition: 'dissolve of 10 frames at its head' },
    ]);
  });

  it('fade in from black and out to it', () => {
    const { events } = parseEdl(edl(
      '001 BL V C 00:00:00:00 00:00:00:00 01:00:00:00 01:00:00:00', '001 A1 V D 024 01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00', '* FROM CLIP NAME: one',
      '002 A1 V C 01:00:02:00 01:00:02:00 01:00:02:00 01:00:02:00', '002 BL V D 012 00:00:00:00 00:00:01:00 01:00:02:00 01:00:03:00',
    ), at24);
    expect(events.map(({ content, clipName, dissolve: seen }) => [content, clipName, seen.tail])).toEqual([['clip', 'one', 12], ['filler', undefined, 0]]);
  });

  it('without their first line are left out, and said', () => {
    const text = edl('001 A1 V C 01:00:04:05 01:00:04:14 01:00:00:00 01:00:00:09', '002 B1 V D 010 01:00:08:08 01:00:08:18 01:00:00:09 01:00:00:19');
    expect(parseEdl(text, at24)).toMatchObject({ skipped: 1, events: [{ number: '001' }] });
    expect(problems(text)).toEqual(['warn line 4: event 002 of type D with no line of its number before it']);
  });

  it('longer than their event are told', () => {
    expect(problems(dissolve.replace('D 010', 'W001 011'))).toEqual(['warn line 7: a transition of 11 frames on an event of 10']);
  });
});

describe('speeds', () => {
  // Record length, M2 speed and source length of retimed events as a public list writes them.
  it.each([[6, '068.0', 15], [28, '048.0', 55], [101, '047.9', 200], [27, '052.6', 57]])('of %i record frames at M2 %s take the %i source frames the list names', (record, speed, source) => {
    const text = `001 A1 V C 100 ${100 + source} 0 ${record}\nM2   A1   ${speed}   00:00:04:04`;
    expect(problems(text)).toEqual([]);
    expect(ranges(text)).toEqual([[100, 100 + source, 0, record]]);
  });

  it('hold one frame in a freeze', () => {
    const { events } = parseEdl(edl('001 A1 V C 01:00:10:21 01:00:10:22 01:08:30:00 01:08:30:17', 'M2   A1       000.0                01:00:10:21', '* * FREEZE FRAME'), at24);
    expect(events).toMatchObject([{ retime: { kind: 'freeze' }, source: { range: { start: 86_661, end: 86_662 } } }]);
  });

  it('are told when they do not fit, and the range is counted from source in', () => {
    const text = '001 A1 V C 100 124 0 24\nM2   A1   048.0   00:00:04:04';
    expect(problems(text)).toEqual(['warn line 2: 24 source frames for 24 record frames at M2 speed 48']);
    expect(ranges(text)).toEqual([[100, 147, 0, 24]]);
  });

  it('backwards are marked, and said not to tell which end plays first', () => {
    const cut = parseEdl('001 A1 V C 100 114 0 24\nM2   A1   -014.4   00:00:04:04', at24);
    expect(cut.events).toMatchObject([{ retime: { kind: 'speed', ratio: -0.6 }, source: { range: { start: 100, end: 114 } } }]);
    expect(cut.problems).toMatchObject([{ severity: 'note', place: 'line 2' }]);
  });

  it('at the own pace of the list are none', () => {
    expect(parseEdl('001 A1 V C 0 24 0 24\nM2 A1 024.0 00:00:00:00', { file: 'a', rate: frameRate(24000, 1001) }).events[0]?.retime).toBeUndefined();
  });
});

describe('notes below an event', () => {
  it('give markers at record time, colour values and comments', () => {
    const { events } = parseEdl(edl(
      '004  ZZ100_50 V     C        01:00:10:01 01:00:14:20 00:59:58:00 01:00:02:19', '', '*LOC: 01:00:01:14 RED     SMR_031_0020 fix', '* ASC_SOP (1.1 1.0 0.9)(0.01 0 -0.01)(1 1 1.2)', '* ASC_SAT 0.85', '* BLEND, DISSOLVE',
    ), at24);
    expect(events).toMatchObject([{
      markers: [{ frame: 86_438, text: 'SMR_031_0020 fix' }], comments: ['BLEND, DISSOLVE'],
      cdl: { slope: [1.1, 1, 0.9], offset: [0.01, 0, -0.01], power: [1, 1, 1.2], saturation: 0.85 },
    }]);
  });

  it('that cannot be read are told by their line', () => {
    const event = '001 A1 V C 24 48 0 24';
    expect(problems([event, '* ASC_SOP (1 1)(0 0 0)(1 1 1)', '* LOC: soon RED x', '* LOC: 00:00:00:25 RED y', 'hello'].join('\n'))).toEqual([
      'warn line 2: "ASC_SOP (1 1)(0 0 0)(1 1 1)"', 'warn line 3: "LOC: soon RED x"',
      'note line 4: LOC "00:00:00:25": frame 25 does not exist at 24 labels a second (00 to 23)', 'note line 5: "hello"',
    ]);
  });
});

describe('a damaged list', () => {
  const good = '001 A1 V C 00:00:01:00 00:00:02:00 00:00:00:00 00:00:01:00';
  it.each([
    ['0011D A1 V C 00:00:01:00 00:00:02:00 00:00:01:00 00:00:02:00', 'event number "0011D"'],
    ['002 A1 V C 00:00:01:00 00:00:02:00 00:00:01:00', '7 columns'],
    ['002 A1 V C 00:00:01:00 00:00:02:00 00:00:01:00 00:00:02', '"00:00:02" where a timecode belongs'],
    ['002 A1 V X 00:00:01:00 00:00:02:00 00:00:01:00 00:00:02:00', 'type "X"'],
    ['002 A1 Q C 00:00:01:00 00:00:02:00 00:00:01:00 00:00:02:00', 'channel "Q"'],
    ['002 A1 V D 00:00:01:00 00:00:02:00 00:00:01:00 00:00:02:00', 'type D without a length'],
    ['002 A1 V C 00:00:01:00 00:61:02:00 00:00:01:00 00:00:02:00', '"00:61:02:00": minute 61 is beyond 59'],
    ['002 A1 V C 00:00:03:00 00:00:02:00 00:00:01:00 00:00:02:00', 'source out 00:00:02:00 before source in 00:00:03:00'],
    ['002 A1 V C 00:00:01:00 00:00:02:00 00:00:02:00 00:00:01:00', 'record out 00:00:01:00 before record in 00:00:02:00'],
    ['002 A1 V C 00:00:01:00 00:00:02:00 00:00:01;00 00:00:02;00', '"00:00:01;00": ";" means drop frame'],
  ])('names the line of %s and keeps the others', (bad, found) => {
    const cut = parseEdl(`${good}\n${bad}`, at24);
    expect(cut.events).toHaveLength(1);
    expect(cut.skipped).toBe(1);
    expect(cut.problems).toHaveLength(1);
    expect(cut.problems[0]).toMatchObject({ place: 'line 2', severity: 'warn' });
    expect(cut.problems[0]?.found).toContain(found);
    expect(cut.problems[0]?.expected).not.toBe('');
  });

  it('whose frames do not exist at the rate says so once and gives nothing', () => {
    const cut = parseEdl(`${good}\n002 A1 V C 00:00:01:00 00:00:02:24 00:00:01:00 00:00:02:24\n003 A1 V C 00:00:01:24 00:00:02:24 00:00:02:24 00:00:03:24`, at24);
    expect(cut).toMatchObject({ events: [], skipped: 3, problems: [{ code: 'unreadable-file', place: 'line 2' }] });
    expect(cut.problems[0]?.found).toContain('frame 24');
  });

  it('with lengths that differ and no speed says both numbers', () => {
    expect(problems(edl('001 A1 V C 01:00:00:00 01:00:01:24 00:00:17:22 00:00:19:19'), { file: 'a', rate: frameRate(25) })).toEqual(['warn line 3: 49 source frames for 47 record frames and no M2 line']);
  });

  it('whose events lie over each other on one track says so and keeps both', () => {
    const cut = parseEdl(edl('001 A1 V C 0 24 0 24', '002 A1 V C 0 24 20 44'), at24);
    expect(cut.events).toHaveLength(2);
    expect(cut.problems).toMatchObject([{ place: 'line 4', found: 'event 002 begins 4 frames before event 001 (line 3) ends on V1' }]);
  });

  it.each(['', 'no list at all', 'TITLE: x\0'])('that is none is told as a whole: %j', (text) => {
    expect(parseEdl(text, at24)).toMatchObject({ events: [], problems: [{ code: 'unreadable-file' }] });
  });

  it('never throws, whatever is in it', () => {
    const token = fc.constantFrom('001', '999999999999', 'A1', 'V', 'C', 'D', 'W001', '010', '00:00:01:00', '23:59:59:23', '00:01:00;00', ';', 'M2', '-024.0', '* LOC:', 'FCM: DROP FRAME', '\n', '\n', '\0', 'ASC_SOP', '(1 1 1)');
    fc.assert(fc.property(fc.array(token, { maxLength: 60 }), fc.constantFrom(frameRate(24), frameRate(30000, 1001)), (tokens, rate) => {
      const cut = parseEdl(tokens.join(' '), { file: 'x', rate });
      expect(cut.events.every(({ record }) => record.end > record.start)).toBe(true);
    }));
  });

  it('keeps what can be told of an event that cannot be read: its number, its notes, and a line whose number was spoiled', () => {
    const notes = '* FROM CLIP NAME: A003C001_27B\n* LOC: 01:00:00:10 RED SMR_027_0010\n* door opens\n';
    const spoiled = `${good}\n002 A1 V C 12:00:00:20 12:00:02 01:00:00:00 01:00:02:00\n${notes}0O3 A1 V C 00:00:00:00 00:00:01:00 01:00:02:00 01:00:03:00\n004 A1 V C 10:61:00:00 10:00:01:00 01:00:03:00 01:00:04:00\n`;
    const { unread, skipped, events } = parseEdl(spoiled, at24);
    expect([events.length, skipped]).toEqual([1, 3]);
    expect(unread?.map(({ problem, number, clipName, markers, comments }) => [problem.place, number, clipName, markers, comments])).toEqual([
      ['line 2', '002', 'A003C001_27B', ['SMR_027_0010'], ['door opens']],
      ['line 6', undefined, undefined, [], []],
      ['line 7', '004', undefined, [], []],
    ]);
    expect(events[0]?.comments).toEqual([]);
  });

  it('of a hundred thousand bad lines is read quickly and told briefly', () => {
    const cut = parseEdl(`${good}\n${'002 A1 V C x x x x\n'.repeat(100_000)}`, at24);
    expect(cut.events).toHaveLength(1);
    expect(cut.problems.length).toBeLessThan(300);
  });
});

describe('drop frame', () => {
  const rate = frameRate(30000, 1001);

  it('counts as the FCM line says where labels have ":", from there on', () => {
    // 01:00:00;00 is frame 107892 of drop frame at 29.97 and 108000 of non-drop (SMPTE ST 12-1; measured with FFmpeg 5.1).
    const line = '001 A1 V C 01:00:00:00 01:00:01:00 01:00:00:00 01:00:01:00';
    expect(ranges(`FCM: DROP FRAME\n${line}`, { file: 'x', rate })).toEqual([[107_892, 107_922, 107_892, 107_922]]);
    expect(ranges(`FCM: NON-DROP FRAME\n${line}`, { file: 'x', rate })).toEqual([[108_000, 108_030, 108_000, 108_030]]);
  });

  it('is believed where a label has ";", and the contradiction told', () => {
    const text = edl('001 A1 V C 01:00:00;00 01:00:01;00 01:00:00;00 01:00:01;00');
    expect(ranges(text, { file: 'x', rate })).toEqual([[107_892, 107_922, 107_892, 107_922]]);
    expect(problems(text, { file: 'x', rate })).toEqual(['warn line 3: ";" (drop frame) under FCM: NON-DROP FRAME']);
  });

  it('refuses labels that it leaves out', () => {
    expect(problems('FCM: DROP FRAME\n001 A1 V C 00:01:00;00 00:01:01;00 0 30', { file: 'x', rate })[0]).toContain('does not exist in drop frame');
  });

  it('mixed with non-drop is told', () => {
    const text = 'FCM: DROP FRAME\n001 A1 V C 0 24 0 24\nFCM: NON-DROP FRAME\n002 A1 V C 0 24 24 48';
    expect(problems(text, { file: 'x', rate })).toEqual(['warn line 2: both FCM: DROP FRAME and FCM: NON-DROP FRAME']);
  });

  it('at a rate that has none is told and read as non-drop', () => {
    expect(problems('FCM: DROP FRAME\n001 A1 V C 0 24 0 24')).toEqual(['warn line 2: FCM: DROP FRAME']);
  });
});
