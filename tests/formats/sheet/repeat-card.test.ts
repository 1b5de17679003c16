import { describe, expect, it } from 'vitest';
import { bestLead, repeatCard } from '../../../src/formats/sheet/repeat-card.ts';
import { DEFAULT_CARD_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { brokenSplit, clearSplit, handheldWithoutSwap, makePass } from '../../support/make-judged.ts';

const SHOW = { show: 'Tidewrack' };

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
    expect(fact('Focus distance')?.value).toBe('2.1 m (6′ 11″)');
    expect(fact('Stop')?.value).toBe('T2');
    expect(fact('Filters')?.value).toBe('clear');
    expect(fact('Shutter')?.value).toBe('172.8°');
    expect(fact('White balance')?.value).toBe('3200 K');
    expect(fact('Camera height')?.value).toBe('1.6 m (5′ 3″)');
  });

  it('never invents: what nobody stated is not on record', () => {
    for (const label of ['Squeeze', 'Roll', 'Background distance']) expect(fact(label)).toEqual({ label, value: 'not on record', known: false });
  });

  it('says how long the pass must run: frames, seconds and timecode length', () => {
    // 312 frames at 24000/1001 are 13.013 s; 24 labels a second make 13 s of timecode (SMPTE ST 12-1).
    expect(fact('The whole lead take')?.value).toBe('312 frames = 13.0 s = TC 00:00:13:00');
    expect(fact('On the lead')?.value).toBe('16:10:00:00 to 16:10:12:23, last frame in');
  });

  it('counts handles in, for each range of the lead', () => {
    const split = repeatCard({ ...brokenSplit(), missingRoles: ['clean'] }, DEFAULT_CARD_TEMPLATE, SHOW);
    const facts = split?.sections[0]?.facts.map(({ label, value }) => [label, value]);
    expect(split?.order).toBe('Shoot the clean plate');
    expect(facts).toEqual([
      ['TWR_027_0010', '124 frames = 5.2 s = TC 00:00:05:04'],
      ['On the lead', '14:22:34:16 to 14:22:39:19, last frame in; handles of 8 and 8 frames are part of it'],
      ['TWR_027_0020', '84 frames = 3.5 s = TC 00:00:03:12'],
      ['On the lead', '14:22:39:12 to 14:22:42:23, last frame in; handles of 12 and 12 frames are part of it'],
    ]);
  });

  it('carries the marks of the move with their times, or says that there are none on record', () => {
    const marks = (judged: ReturnType<typeof handheldWithoutSwap>) => repeatCard(judged, DEFAULT_CARD_TEMPLATE, SHOW)?.sections.find(({ heading }) => heading === 'Marks of the move');
    expect(marks(handheldWithoutSwap())?.table?.rows.map((row) => row.slice(0, 3).map(({ text }) => text))).toEqual([
      ['A start', 'lead 2', '16:10:01:00'], ['B door', 'lead 2', '16:10:05:12'], ['C end', 'lead 2', '16:10:10:00'],
    ]);
    expect(marks({ ...handheldWithoutSwap(), marks: [] })?.facts).toEqual([{ label: 'Marks', value: 'not on record', known: false }]);
  });

  it('goes by the circled lead that counts', () => {
    expect(bestLead(brokenSplit())?.id).toBe('A_0003/A003C012_261125_R7QK.mov');
    const judged = clearSplit();
    const [first] = judged.matched.set.clips;
    const unusable = { ...makePass({ file: 'a.mov', role: 'lead', take: 9, circled: true }), usable: false };
    const set = { ...judged.matched.set, clips: [unusable, ...judged.matched.set.clips] };
    expect(bestLead({ ...judged, matched: { ...judged.matched, set } })?.id).toBe(first?.id);
  });
});
