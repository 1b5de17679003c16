import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { base64 } from '../../../src/formats/board/base64.ts';
import { boardStills } from '../../../src/formats/board/board-set.ts';
import { formatBoard } from '../../../src/formats/board/board.ts';
import { stillKey } from '../../../src/formats/sheet/content.ts';
import { plannedStills } from '../../../src/formats/sheet/stills.ts';
import { brokenSplit, finding, makeJudgedDay, makePass } from '../../support/make-judged.ts';
import { parsePage } from '../../support/parse-page.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const NO_STILLS = { show: 'Tidewrack', stills: new Map<string, Uint8Array>() };
describe('the day board', () => {
  it('shows every set with its verdict and reason, worst first', () => {
    const page = formatBoard(makeJudgedDay(), NO_STILLS);
    const sets = [...page.matchAll(/<article class="set" id="set-([^"]+)"[^]*?<p class="verdict">[^]*?<\/span> ([A-Z]+)<\/b>/g)].map(([, id, verdict]) => [id, verdict]);
    expect(sets).toEqual([['27B-A', 'NO'], ['50C-A', 'NO'], ['61-A', 'NO'], ['44A-B', 'LOOK'], ['31-A', 'YES']]);
    expect(page).toContain('the swapped pass lacks 13 frames at the tail of TWR_027_0020');
  });

  it('has the passes on a time line, the findings with what to do, and the repeat card', () => {
    const page = formatBoard(makeJudgedDay(), NO_STILLS);
    expect(page).toContain('<b>swapped pass</b> A003C013_261125_R7QK.mov: tail lacks 13 of the cut, 12 of the handle');
    // The axis shows the range and as much again before it: 84 frames from 152 back to 68, and on to 240. The missing 13 begin at 211.
    expect(page).toContain('<i class="missing cut" style="left:83.14%;width:7.56%"></i>');
    expect(page).toContain('→ shoot the swapped pass again at T2.8');
    expect(page).toContain('<h3>Shoot the swapped pass</h3>');
    expect(page).toContain('312 frames = 13.0 s = TC 00:00:13:00');
    expect(page).toContain('B door');
  });

  it('is well formed, needs nothing from outside, and its policy lets run the one script it has', () => {
    const page = formatBoard(makeJudgedDay(), NO_STILLS);
    const { errors, elements } = parsePage(page);
    expect(errors).toEqual([]);
    const scripts = elements.filter(({ name }) => name === 'script');
    expect(scripts.map(({ attributes }) => attributes)).toEqual([{}]);
    const digest = createHash('sha256').update(scripts[0]?.text ?? '').digest('base64');
    const policy = elements.find(({ attributes }) => attributes['http-equiv'] === 'Content-Security-Policy')?.attributes['content'];
    expect(policy).toBe(`default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'sha256-${digest}'; base-uri 'none'; form-action 'none'`);
    expect(page).not.toMatch(/https?:|url\(|@import|\son\w+=|javascript:|\bfetch\b|XMLHttpRequest|innerHTML/i);
    const ids = elements.flatMap(({ attributes }) => attributes['id'] ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { attributes } of elements) {
      for (const name of ['href', 'src']) expect(attributes[name] ?? 'data:').toMatch(/^(#|data:)/);
      if (attributes['href']?.startsWith('#') === true) expect(ids).toContain(attributes['href'].slice(1));
    }
  });

  it('names for the filter what a set is found by: slate, camera, shots, clips, codes of its findings', () => {
    const { elements } = parsePage(formatBoard(makeJudgedDay(), NO_STILLS));
    const set = elements.find(({ attributes }) => attributes['id'] === 'set-27B-A')?.attributes;
    expect(set).toMatchObject({ 'data-verdict': 'no', 'data-camera': 'A', 'data-codes': 'height-differs short-tail stop-differs sync-assumed' });
    for (const word of ['27B-A', 'TWR_027_0020', 'A_0003/A003C013_261125_R7QK.mov']) expect(set?.['data-find']).toContain(word);
    expect(elements.filter(({ name }) => name === 'option').map(({ text }) => text)).toEqual(expect.arrayContaining(['A', 'B', 'stop-differs', 'truncated-clip']));
  });

  it('escapes whatever stands in names, notes and findings', () => {
    const evil = `"><script>alert('x')</script><img onerror=x>&amp;\u001b[2J\u202e`;
    const day = makeJudgedDay();
    const judged = brokenSplit();
    const clips = judged.matched.set.clips.map((clip) => ({ ...clip, notes: [evil] }));
    const set = { ...judged.matched.set, id: evil, slate: evil, camera: evil, clips };
    const page = formatBoard({
      ...day,
      clips: [makePass({ file: evil, role: 'unknown' })],
      sets: [{ ...judged, matched: { ...judged.matched, set, proposed: [{ lead: evil, clip: evil, role: 'clean', why: evil }] }, reason: evil, findings: [finding('unknown-slate', 'stop', [evil], { value: evil, unit: evil }, undefined, evil, evil, [evil])], missingRoles: ['clean'] }],
      unplaced: [{ clip: evil, why: evil }],
      findings: [],
    }, { ...NO_STILLS, show: evil });
    const { errors, elements } = parsePage(page);
    expect(errors).toEqual([]);
    expect(elements.filter(({ name, attributes }) => name === 'script' || name === 'img' || attributes['onerror'] !== undefined)).toHaveLength(1);
    expect(page.match(/<script/g)).toHaveLength(1);
    expect(page).toContain('&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&lt;img onerror=x&gt;&amp;amp;␛[2J&lt;U+202E&gt;');
    expect(page.replaceAll('\n', '')).not.toMatch(/\p{Cc}|\u202e/u);
  });

  it('shows the middle still of each pass, from among those of the sheets', () => {
    const judged = brokenSplit();
    const wanted = boardStills(judged);
    expect(wanted.map(({ frame }) => frame)).toEqual([97, 91, 97]);
    const planned = new Set(plannedStills(judged).map(stillKey));
    for (const still of wanted) expect(planned.has(stillKey(still))).toBe(true);
    const page = formatBoard({ ...makeJudgedDay(), sets: [judged] }, { show: '', stills: new Map(wanted.map((still) => [stillKey(still), Uint8Array.from([255, 216, still.frame])])) });
    expect(page.match(/<img alt="[a-z ]+, middle frame"/g)).toHaveLength(3);
    expect(page).toContain('src="data:image/jpeg;base64,/9hh"');
  });

  it('has the same bytes whatever the order of the day', () => {
    const day = makeJudgedDay();
    expect(formatBoard(shuffledDay(day, 13), NO_STILLS)).toBe(formatBoard(day, NO_STILLS));
  });

  it('says so when there is nothing', () => {
    expect(formatBoard({ clips: [], sets: [], unplaced: [], findings: [] }, NO_STILLS)).toContain('No plate set was found.');
  });
});

describe('base64', () => {
  it.each([['', ''], ['f', 'Zg=='], ['fo', 'Zm8='], ['foo', 'Zm9v'], ['foob', 'Zm9vYg=='], ['fooba', 'Zm9vYmE='], ['foobar', 'Zm9vYmFy']])('of %j is %j (RFC 4648, section 10)', (text, coded) => {
    expect(base64(new TextEncoder().encode(text))).toBe(coded);
  });
});
