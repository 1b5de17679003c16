import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipOptics } from '../../../src/core/checks/clip-optics.ts';
import { differenceCost } from '../../../src/core/optics/difference-cost.ts';
import { valueOf, withValue } from '../../../src/core/optics/parts.ts';
import { defaultOptics } from '../../support/optics-settings.ts';
import { bestLead, repeatCard } from '../../../src/formats/sheet/repeat-card.ts';
import { DEFAULT_CARD_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { brokenSplit, clearSplit, handheldWithoutSwap, makePass } from '../../support/make-judged.ts';

const SHOW = { show: 'Tidewrack', optics: defaultOptics() };

describe('a repeat card', () => {
  const card = repeatCard(handheldWithoutSwap(), DEFAULT_CARD_TEMPLATE, SHOW);
  const fact = (label: string) => card?.sections.flatMap(({ facts }) => facts).find((entry) => entry.label === label);

  it('is made only for a set that lacks a pass and has a lead to repeat', () => {
    expect(repeatCard(clearSplit(), DEFAULT_CARD_TEMPLATE, SHOW)).toBeUndefined();
    expect(repeatCard({ ...clearSplit(), missingRoles: ['lead'] }, DEFAULT_CARD_TEMPLATE, SHOW)).toBeUndefined();
    expect(card?.order).toBe('Shoot the swapped pass');
    expect(card?.like).toBe('Performer and double trade places. Repeat exactly the lead pass, 50C take 2, circled (A005C007_261125_R7QK.mov).');
  });

  it('gives what the crew must set, with its unit', () => {
    expect(fact('Lens')?.value).toBe('Prime 25');
    expect(fact('Lens serial')?.value).toBe('0107');
    expect(fact('Focal length')?.value).toBe('25 mm');
    expect(fact('Focus mark')?.value).toBe('2.1 m');
    expect(fact('Stop')?.value).toBe('T2');
    expect(fact('Filters')?.value).toBe('clear');
    expect(fact('Shutter')?.value).toBe('172.8°');
    expect(fact('White balance')?.value).toBe('3200 K');
    expect(fact('Camera height')).toMatchObject({ value: '160 cm', also: '5′ 3″' });
  });

  it('never invents: what nobody stated is listed as a measurement to take, with what cannot be said without it', () => {
    expect(card?.missing).toEqual([{ what: 'roll', why: '' }, { what: 'distance to background', why: 'without it ± of place is the tightest it can be' }]);
    for (const label of ['Squeeze', 'Roll', 'Camera to background']) expect(fact(label)).toBeUndefined();
    const bare = { ...handheldWithoutSwap(), marks: [] };
    const clips = bare.matched.set.clips.map((clip) => ({ ...clip, lens: {}, exposure: {}, position: {}, picture: {} }));
    const empty = repeatCard({ ...bare, matched: { ...bare.matched, set: { ...bare.matched.set, clips } } }, DEFAULT_CARD_TEMPLATE, SHOW);
    expect(empty?.missing.map(({ what }) => what)).toEqual([
      'lens', 'lens serial', 'focal length', 'stop', 'focus mark', 'filters', 'EI', 'white balance', 'shutter', 'raster', 'camera height', 'tilt', 'roll', 'distance to subject', 'distance to background', 'marks of the move',
    ]);
    expect(JSON.stringify(empty)).not.toContain('±  ');
  });

  it('says how long the pass must run: frames, seconds and timecode length', () => {
    // 312 frames at 24000/1001 are 13.013 s; 24 labels a second make 13 s of timecode (SMPTE ST 12-1).
    expect(fact('The whole lead take')?.value).toBe('312 frames = 13.0 s = TC 00:00:13:00');
    expect(fact('The whole lead take')?.also).toBe('on the lead: 16:10:00:00 to 16:10:12:23, last frame in');
  });

  it('counts handles in, for each range of the lead', () => {
    const split = repeatCard({ ...brokenSplit(), missingRoles: ['clean'] }, DEFAULT_CARD_TEMPLATE, SHOW);
    const facts = split?.sections[0]?.facts.map(({ label, value, also }) => [label, value, also]);
    expect(split?.order).toBe('Shoot the clean plate');
    expect(facts).toEqual([
      ['TWR_027_0010', '124 frames = 5.2 s = TC 00:00:05:04', 'on the lead: 14:22:34:16 to 14:22:39:19, last frame in; handles of 8 and 8 frames are part of it'],
      ['TWR_027_0020', '84 frames = 3.5 s = TC 00:00:03:12', 'on the lead: 14:22:39:12 to 14:22:42:23, last frame in; handles of 12 and 12 frames are part of it'],
    ]);
  });

  it('carries the marks of the move with their times from the sync mark, or asks for them', () => {
    const marks = (judged: ReturnType<typeof handheldWithoutSwap>) => repeatCard(judged, DEFAULT_CARD_TEMPLATE, SHOW)?.sections.find(({ heading }) => heading === 'Marks of the move')?.marks;
    expect(marks(handheldWithoutSwap())?.map(({ name, time, also }) => [name, time, also])).toEqual([
      ['A start', '+0.00 s', 'frame 0 · lead TC 16:10:01:00'], ['B door', '+4.50 s', 'frame 108 · lead TC 16:10:05:12'], ['C end', '+9.00 s', 'frame 216 · lead TC 16:10:10:00'],
    ]);
    expect(marks(handheldWithoutSwap())?.[1]?.values).toEqual(['x 0.8 m   y 0.3 m   z 1.58 m', 'pan −12.5°', expect.stringContaining('focus 1.7 m (5′ 7″) · sharp 1.5 m to 1.95 m'), 'left foot on blue tape']);
    expect(marks({ ...handheldWithoutSwap(), marks: [] })).toBeUndefined();
  });

  it('counts the time of a mark from the sync mark when only timecode was noted, and says so when there is no sync mark', () => {
    const judged = handheldWithoutSwap();
    const noted = judged.marks.map(({ timeS: _time, ...mark }) => mark);
    const times = (marks: typeof noted) => repeatCard({ ...judged, marks }, DEFAULT_CARD_TEMPLATE, SHOW)?.sections.flatMap((part) => part.marks ?? []).map(({ name, time, also }) => [name, time, also.includes('no sync mark')]);
    // 108 frames at 24000/1001 are 4.5045 s, 60 are 2.5025 s.
    const sync = { slate: '50C', take: 2, pass: 'lead', mark: 'sync', tc: '16:10:03:00', from: 'marks.csv line 5' };
    expect(times([...noted, sync])).toEqual([['A start', '−2.00 s', false], ['sync', '+0.00 s', false], ['B door', '+2.50 s', false], ['C end', '+7.01 s', false]]);
    expect(times(noted)).toEqual([['A start', '+1.00 s', true], ['B door', '+5.51 s', true], ['C end', '+10.01 s', true]]);
    // Marks of the swapped pass of another take are not the lead's.
    expect(times([{ ...sync, take: 3, pass: 'swapped' }, ...noted.slice(0, 1)])).toEqual([['A start', '+1.00 s', true]]);
  });

  it('says of a clean plate of a locked-off camera what is enough and what is wished', () => {
    const split = repeatCard({ ...brokenSplit(), missingRoles: ['clean'], enoughCleanFrames: 24 }, DEFAULT_CARD_TEMPLATE, SHOW);
    const facts = split?.sections[0]?.facts.map(({ label, value }) => [label, value]);
    expect(facts).toEqual([
      ['Clean plate, enough', '24 frames = 1.0 s = TC 00:00:01:00'],
      ['TWR_027_0010 (wished)', '124 frames = 5.2 s = TC 00:00:05:04'],
      ['TWR_027_0020 (wished)', '84 frames = 3.5 s = TC 00:00:03:12'],
    ]);
  });

  it('prints no ± for the focal length of a prime', () => {
    expect(fact('Lens')?.value).toBe('Prime 25');
    expect(fact('Focal length')?.tolerance).toBeUndefined();
  });

  it('goes by the circled lead that counts', () => {
    expect(bestLead(brokenSplit())?.id).toBe('A_0003/A003C012_261125_R7QK.mov');
    const judged = clearSplit();
    const [first] = judged.matched.set.clips;
    const unusable = { ...makePass({ file: 'a.mov', role: 'lead', take: 9, circled: true }), usable: false };
    const set = { ...judged.matched.set, clips: [unusable, ...judged.matched.set.clips] };
    expect(bestLead({ ...judged, matched: { ...judged.matched, set } })?.id).toBe(first?.id);
  });

  it('keeps its limits with the numbers it prints, and gives away no more than rounding to two figures', () => {
    const judged = handheldWithoutSwap();
    const lens = fc.record({ focalLength: fc.integer({ min: 18, max: 100 }), focus: fc.double({ min: 1.5, max: 6, noNaN: true }), tilt: fc.double({ min: -20, max: 20, noNaN: true }), far: fc.double({ min: 1.5, max: 5, noNaN: true }) });
    fc.assert(
      fc.property(lens, ({ focalLength, focus, tilt, far }) => {
        const clips = judged.matched.set.clips.map((clip) => {
          const from = { source: { kind: 'report', file: 'camera.csv', place: 'line 2' }, raw: '' } as const;
          const of = (value: number) => ({ value, ...from });
          return { ...clip, lens: { ...clip.lens, model: { value: 'Zoom 18-100', ...from }, focalLengthMm: of(focalLength), focusDistanceM: of(focus) }, position: { heightM: of(1.42), tiltDeg: of(tilt), rollDeg: of(0), subjectDistanceM: of(focus), backgroundDistanceM: of(focus * far) } };
        });
        const [lead] = clips;
        const printed = repeatCard({ ...judged, matched: { ...judged.matched, set: { ...judged.matched.set, clips } } }, DEFAULT_CARD_TEMPLATE, SHOW)?.sections.flatMap(({ facts }) => facts) ?? [];
        if (lead === undefined) throw new Error('the fixture has a lead');
        const { camera, plate, planes, limits } = clipOptics(lead, SHOW.optics);
        if (plate === undefined || limits === undefined) throw new Error('the raster is on record');
        for (const [label, part, by] of [['Focal length', 'focalLength', 'shift'], ['Camera height', 'height', 'parallax'], ['Side to side', 'side', 'parallax'], ['Camera to background', 'forward', 'parallax'], ['Tilt', 'tilt', 'shift'], ['Pan', 'pan', 'shift'], ['Roll', 'roll', 'shift']] as const) {
          const [, amount = '', unit = ''] = /^± ([\d.]+) ?(mm|cm|m|°)/.exec(printed.find((fact) => fact.label === label)?.tolerance ?? '') ?? [];
          const inState = Number(amount) * (part === 'focalLength' || unit === '°' ? 1 : ({ mm: 0.001, cm: 0.01, m: 1 }[unit] ?? Number.NaN));
          const base = valueOf(part, camera) ?? 0;
          const worst = Math.max(...[1, -1].map((sign) => {
            const cost = differenceCost(withValue(part, camera, base), withValue(part, camera, base + sign * inState), plate, planes, [part]);
            if (cost.kind !== 'cost' || cost.parallax.kind === 'by-distance') throw new Error(`${label}: ${JSON.stringify(cost)}`);
            return by === 'shift' ? cost.filmed.worstPx : cost.parallax.px;
          }));
          const limit = by === 'shift' ? limits.shiftPx : limits.parallaxPx;
          expect(worst / limit, label).toBeLessThan(1.01);
          expect(worst / limit, label).toBeGreaterThan(0.89);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('asks for a value that no camera can have instead of printing it', () => {
    const judged = handheldWithoutSwap();
    const of = (value: number) => ({ value, source: { kind: 'report', file: 'camera.csv', place: 'line 2' }, raw: String(value) } as const);
    const clips = judged.matched.set.clips.map((clip) => ({ ...clip, position: { ...clip.position, tiltDeg: of(409.5), subjectDistanceM: of(-2) } }));
    const odd = repeatCard({ ...judged, matched: { ...judged.matched, set: { ...judged.matched.set, clips } } }, DEFAULT_CARD_TEMPLATE, SHOW);
    expect(odd?.missing).toEqual([
      { what: 'tilt', why: 'what the papers say of it no camera can have' }, { what: 'roll', why: '' },
      { what: 'distance to subject', why: 'what the papers say of it no camera can have' }, { what: 'distance to background', why: 'without it ± of place is the tightest it can be' },
    ]);
    expect(JSON.stringify(odd?.sections)).not.toContain('409.5');
  });

  it('says one ± for all marks, and none of their numbers is finer than it', () => {
    const marks = repeatCard(handheldWithoutSwap(), DEFAULT_CARD_TEMPLATE, SHOW)?.sections.find((part) => part.marks !== undefined);
    // F = 25 · 4096 / 24.89 = 4114.1 px; at mark B the performer is 1.7 m away and the background counts as infinitely far: 1 px · 1700 / 4114.1 = 0.413 mm.
    // From A to B the camera covers 0.855 m in 4.5 s and pans 12.5°: 0.41 mm take 0.0022 s, 0.05 frame.
    expect(marks?.remark).toBe('Each mark within ± place 0.41 mm ◇, pan 0.022° ◇, tilt 0.025° ◇, focus 5.2 cm, time 0.051 frame.');
  });

  it('prints no NaN, infinity or −0, whatever the papers say', () => {
    const judged = handheldWithoutSwap();
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, -0, 0, -1, 409.5, 1e300]) {
      const of = { value, source: { kind: 'report', file: 'camera.csv', place: 'line 2' }, raw: '' } as const;
      const clips = judged.matched.set.clips.map((clip) => ({
        ...clip, lens: { focalLengthMm: of, focusDistanceM: of, stop: { ...of, value: { kind: 'T' as const, number: value } } }, exposure: { shutterDeg: of, ei: of }, position: { heightM: of, tiltDeg: of, rollDeg: of, subjectDistanceM: of, backgroundDistanceM: of },
      }));
      const marks = judged.marks.map((mark) => ({ ...mark, timeS: value, x: value, pan: value, focusDistanceM: value, focalLengthMm: value }));
      const text = JSON.stringify(repeatCard({ ...judged, marks, matched: { ...judged.matched, set: { ...judged.matched.set, clips } } }, DEFAULT_CARD_TEMPLATE, SHOW));
      expect(text).not.toMatch(/NaN|Infinity|undefined|[^\w.]-0\b/);
    }
  });
});
