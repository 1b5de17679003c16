import { describe, expect, it } from 'vitest';
import { allFilters, densityOf, otherFilters } from '../../../src/core/checks/filters.ts';
import { checkCamera } from '../../../src/core/checks/camera.ts';
import { checkLens } from '../../../src/core/checks/lens.ts';
import type { Clip, LensFacts, Role } from '../../../src/core/material/clip.ts';
import type { Filters, Stop } from '../../../src/core/material/statement.ts';
import { chosen } from '../../support/make-matched.ts';
import { given, passesOf } from './make-passes.ts';

/** The measured value and severity of the only finding, or what there is instead. */
function found(lead: LensFacts, pass: LensFacts, role: Role = 'swapped', over: Partial<Clip> = {}): unknown {
  const findings = checkLens(...given(passesOf({ lens: lead, ...over }, { lens: pass, ...over }, { role })));
  return findings.length === 1 ? [findings[0]?.code, findings[0]?.severity, findings[0]?.measured?.value] : findings.map(({ code }) => code);
}

const t = (number: number, kind: Stop['kind'] = 'T'): LensFacts => ({ stop: chosen({ kind, number }, `${kind}${number}`) });
const nd = (text: string, ndDensity?: number): LensFacts => ({ filters: chosen(ndDensity === undefined ? { text } : { text, ndDensity }, text) });

describe('the iris', () => {
  // Marks are powers of √2 rounded: 11 stands for 11.3137, 45 for 45.2548 (US Army lesson SS0508), so marks lie whole stops apart.
  it.each([
    [2.8, 4, 1], [2, 2.8, 1], [5.6, 8, 1], [8, 11, 1], [16, 22, 1], [2.8, 11, 4], [4, 45, 7], [2.8, 3.2, 0.333], [2.8, 3.5, 0.667], [5.6, 6.3, 0.333],
  ])('T%d and T%d lie %d stops apart', (a, b, stops) => {
    expect(found(t(a), t(b))).toEqual(['stop-differs', stops > 0.95 ? 'stop' : 'warn', stops]);
    expect(found(t(b), t(a))).toEqual(['stop-differs', stops > 0.95 ? 'stop' : 'warn', stops]);
  });

  it('takes a number that is no mark as it is', () => {
    // 2 × log2(3.0 / 2.9), worked out by hand.
    expect(found(t(2.9), t(3))).toEqual([]);
    expect(found(t(2.9), t(3.1))).toEqual(['stop-differs', 'warn', 0.192]);
  });

  it('never holds a T-stop against an f-stop, but a number without a scale against either', () => {
    expect(found(t(2.8), t(4, 'f'))).toEqual([]);
    expect(found(t(2.8, 'unknown'), t(4, 'f'))).toEqual(['stop-differs', 'stop', 1]);
    expect(found(t(2.8), t(4, 'unknown'))).toEqual(['stop-differs', 'stop', 1]);
  });

  it('is compared along the take too, if it is on one scale there', () => {
    const along = (number: number, stopKind: Stop['kind'], lens: LensFacts = {}): Partial<Clip> => ({
      lens,
      tracks: [{ source: { kind: 'sidecar', file: 'lens.csv', place: '' }, frames: 10, values: { stop: Array.from({ length: 10 }, () => number) }, stopKind }],
    });
    const codes = (lead: Partial<Clip>, pass: Partial<Clip>): readonly string[] => checkLens(...given(passesOf(lead, pass))).map(({ code }) => code);
    expect(codes(along(2.8, 'T'), along(4, 'T'))).toEqual(['stop-differs']);
    expect(codes(along(2.8, 'T'), along(4, 'f'))).toEqual([]);
    expect(codes(along(2.8, 'unknown', t(2.8)), along(4, 'unknown'))).toEqual(['stop-differs']);
    expect(codes(along(2.8, 'T'), { lens: t(4) })).toEqual(['stop-differs']);
  });

  it('says which way: darker for the larger number', () => {
    const say = (a: number, b: number): string => checkLens(...given(passesOf({ lens: t(a) }, { lens: t(b) })))[0]?.consequence ?? '';
    expect(say(2.8, 4)).toContain('Stop of the swapped pass B is T4, of the lead A T2.8 (1 stop darker, with more in focus)');
    expect(say(4, 2.8)).toContain('1 stop brighter, with less in focus');
  });
});

describe('neutral density', () => {
  // Nominally 1, 2, 3 and 4 stops (opticalglasscn.com/ND.php); exactly density / log10(2).
  it.each([[0.3, 0.997], [0.6, 1.993], [0.9, 2.99], [1.2, 3.986], [0.1, 0.332], [1, 3.322], [3, 9.966]])('density %d takes %d stops', (density, stops) => {
    expect(found(nd('none', 0), nd(`ND${density}`, density))).toEqual(['filter-differs', stops > 0.95 ? 'stop' : 'warn', stops]);
  });

  it('counts a clip with other filters and none of density as density 0', () => {
    expect(found(nd('Pola'), nd('Pola + ND.3', 0.3))).toEqual(['filter-differs', 'stop', 0.997]);
  });

  it('compares words where a density could not be read', () => {
    expect(found(nd('ND8'), nd('ND.9', 0.9))).toEqual(['filter-differs', 'warn', 'ND.9']);
    expect(found(nd('ND.6 grad'), nd('nd.6 GRAD'))).toEqual([]);
  });
});

describe('other filters', () => {
  it.each([
    ['BPM 1/4 + ND.6', 'ND.6, 1/4 bpm'], ['ND.6', 'IRND 0.6'], ['0.6', 'ND 0.6'], ['none', 'clear'], ['', 'no filter'], ['85N6', '85 + ND.6'], ['0.9ND', 'ND 0,9'],
    ['ND 1/4 Pola', 'pola'],
  ])('"%s" and "%s" are alike but for their density', (a, b) => {
    expect(otherFilters({ text: a })).toBe(otherFilters({ text: b }));
  });

  it.each([['BPM 1/4', 'BPM 1/2'], ['Pola', ''], ['85', '80A'], ['ND.6 + Pola', 'ND.6']])('"%s" and "%s" are not', (a, b) => {
    expect(otherFilters({ text: a })).not.toBe(otherFilters({ text: b }));
  });

  it('knows a density it was given, none where none is named, and that it does not know one that is named', () => {
    const densities = ([{ text: 'x', ndDensity: 0.6 }, { text: 'Pola' }, { text: 'standard blend' }, { text: 'ND8' }, { text: 'ND' }, { text: '85N6' }] satisfies Filters[]).map(densityOf);
    expect(densities).toEqual([0.6, 0, 0, undefined, undefined, undefined]);
    expect(allFilters({ text: 'ND8, Pola' })).toBe('ND8 POLA');
  });
});

describe('the lens itself', () => {
  const lens = (model: string, serial?: string, kind?: 'embedded' | 'report'): LensFacts => ({
    model: chosen(model, model, kind),
    ...(serial === undefined ? {} : { serial: chosen(serial, serial, kind) }),
  });

  it('is told by its serial where both are known, however its name is written', () => {
    expect(found(lens('Calder Prime 35', 'CP-3507'), lens('Calder 35mm T1.8', 'cp 3507'))).toEqual([]);
    expect(found(lens('Calder Prime 35', 'CP-3507'), lens('Calder Prime 35', 'CP-3511'))).toEqual(['lens-differs', 'stop', 'CP-3511']);
  });

  it('is told by its name else: two names of one hand are two lenses, of two hands perhaps one', () => {
    expect(found(lens('Calder Prime 35'), lens('calder-prime 35'))).toEqual([]);
    expect(found(lens('Calder Prime 35'), lens('Orlop Macro 35'))).toEqual(['lens-differs', 'stop', 'Orlop Macro 35']);
    expect(found(lens('Calder Prime 35', undefined, 'embedded'), lens('Orlop Macro 35'))).toEqual(['lens-differs', 'warn', 'Orlop Macro 35']);
  });

  it('is not compared where one of the two does not say', () => {
    expect(found({}, lens('Calder Prime 35', 'CP-3507'))).toEqual([]);
    expect(found({ serial: chosen('CP-3507') }, { model: chosen('Calder Prime 35') })).toEqual([]);
  });
});

describe('focus', () => {
  const at = (metres: number): LensFacts => ({ focusDistanceM: chosen(metres) });

  it('is compared in dioptres: 10 cm is much at 1 m and nothing at 10 m', () => {
    expect(found(at(1), at(1.1))).toEqual(['focus-differs', 'warn', 0.0909]);
    expect(found(at(10), at(10.1))).toEqual([]);
  });

  it('knows infinity', () => {
    expect(found(at(Number.POSITIVE_INFINITY), at(Number.POSITIVE_INFINITY))).toEqual([]);
    expect(found(at(20), at(Number.POSITIVE_INFINITY))).toEqual(['focus-differs', 'warn', 0.05]);
    const [finding] = checkLens(...given(passesOf({ lens: at(20) }, { lens: at(Number.POSITIVE_INFINITY) })));
    expect(finding?.consequence).toContain('Focus of the swapped pass B is infinity, of the lead A 20 m (sharpness lies farther away)');
  });

  it('is not compared at distances that are none', () => {
    expect(found(at(0), at(3))).toEqual([]);
    expect(found(at(3), at(-1))).toEqual([]);
  });
});

describe('squeeze', () => {
  const squeezed = (squeeze: number): LensFacts => ({ squeeze: chosen(squeeze) });

  it('takes 1.3 and 1.33 for one anamorphic', () => {
    expect([found(squeezed(1.33), squeezed(1.3)), found(squeezed(1.5), squeezed(1.33))]).toEqual([[], ['squeeze-differs', 'stop', 0.17]]);
  });
});

describe('what the passes were recorded with', () => {
  const found = (lead: Partial<Clip>, pass: Partial<Clip>): readonly string[] =>
    checkCamera(...given(passesOf(lead, pass))).map(({ code, severity }) => `${code} ${severity}`);
  const codec = (name: string, kind: 'embedded' | 'report' = 'embedded'): Partial<Clip> => ({ picture: { codec: chosen(name, name, kind) } });
  const body = (model: string, serial?: string): Partial<Clip> => ({
    picture: { cameraModel: chosen(model, model, 'embedded'), ...(serial === undefined ? {} : { cameraSerial: chosen(serial, serial, 'embedded') }) },
  });

  it('takes two ways of writing one codec for one, but "422" and "422 HQ" for two', () => {
    expect(found(codec('Wavelet 4444 XQ'), codec('wavelet-4444-xq'))).toEqual([]);
    expect(found(codec('Wavelet 422'), codec('Wavelet 422 HQ'))).toEqual(['codec-differs warn']);
  });

  it('does not hold what a report calls a codec against what a file calls it', () => {
    expect(found(codec('ap4h'), codec('Wavelet 4444', 'report'))).toEqual([]);
  });

  it('notes the codec of a sequence beside a movie', () => {
    expect(found(codec('Wavelet 4444'), { ...codec('ZIP'), kind: 'sequence' })).toEqual(['codec-differs note']);
  });

  it('tells bodies by their serial where both are known, by their model else', () => {
    expect(found(body('Orlop S1', '01207'), body('Orlop S1 Mk2', '1207'))).toEqual([]);
    expect(found(body('Orlop S1', '1207'), body('Orlop S1', '1311'))).toEqual(['camera-differs warn']);
    expect(found(body('Orlop S1'), body('Calder V'))).toEqual(['camera-differs warn']);
  });
});
