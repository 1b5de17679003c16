import { describe, expect, it } from 'vitest';
import { checkCamera } from '../../../src/core/checks/camera.ts';
import { checkLens } from '../../../src/core/checks/lens.ts';
import type { MatchedPasses } from '../../../src/core/checks/passes.ts';
import { checkPosition } from '../../../src/core/checks/position.ts';
import { checkRate } from '../../../src/core/checks/rate.ts';
import type { Chosen, Clip, ExposureFacts, LensFacts, PictureFacts, PositionFacts } from '../../../src/core/material/clip.ts';
import type { Finding } from '../../../src/core/material/finding.ts';
import { limitsOf } from '../../../src/core/material/tolerance.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { method } from '../../support/make-clips.ts';
import { checkRules, chosen } from '../../support/make-matched.ts';
import { given, passesOf } from './make-passes.ts';

// Worked out by hand with the formulas of docs/optics.md: 4096 × 2160 px on 24.89 mm, so F = 35 · 4096 / 24.89 = 5759.74 px and a px is 0.0060767 mm;
// corner at √(2048² + 1080²) = 2315.34 px. The camera looks level at a performer 2 m away before a wall 6 m away.

interface Facts {
  readonly lens?: Partial<LensFacts>;
  readonly exposure?: ExposureFacts;
  readonly position?: Partial<Record<keyof PositionFacts, Chosen<number> | undefined>>;
  readonly picture?: PictureFacts;
  readonly over?: Partial<Clip>;
}

const LENS: LensFacts = { focalLengthMm: chosen(35), focusDistanceM: chosen(2), stop: chosen({ kind: 'T' as const, number: 2.8 }), filters: chosen({ text: 'ND.6', ndDensity: 0.6 }) };
const POSITION: PositionFacts = { heightM: chosen(1.42), tiltDeg: chosen(0), rollDeg: chosen(0), subjectDistanceM: chosen(2), backgroundDistanceM: chosen(6) };
const EXPOSURE: ExposureFacts = { shutterDeg: chosen(180), ei: chosen(800) };
const PICTURE: PictureFacts = { raster: chosen({ width: 4096, height: 2160 }) };

function clip({ lens, exposure, position, picture, over }: Facts): Partial<Clip> {
  // What is given as undefined is not on record.
  const known = Object.fromEntries(Object.entries({ ...POSITION, ...position }).filter(([, value]) => value !== undefined));
  return { lens: { ...LENS, ...lens }, exposure: { ...EXPOSURE, ...exposure }, position: known, picture: picture ?? PICTURE, sensorRate: frameRate(24), ...over };
}

/** All findings of a lead and a swapped pass that is as the lead but for `pass`; `both` is true of the two. */
function findings(pass: Facts, both: Facts = {}, over: Partial<MatchedPasses> = {}): readonly Finding[] {
  const merged: Facts = { ...both, ...pass, lens: { ...both.lens, ...pass.lens }, position: { ...both.position, ...pass.position } };
  const all = given(passesOf(clip(both), clip(merged), over));
  return [...checkRate(...all), ...checkLens(...all), ...checkCamera(...all), ...checkPosition(...all)];
}

function only(pass: Facts, both: Facts = {}, over: Partial<MatchedPasses> = {}): Finding {
  const [first, ...more] = findings(pass, both, over);
  if (first === undefined || more.length > 0) throw new Error(`one finding expected: ${JSON.stringify([first, ...more].map((one) => one?.code))}`);
  return first;
}

const ASSUMED = 'assumed: the camera is not on record: the sensor is taken to be as wide as Super 35 film, 24.89 mm (common practice)';
const metres = (value: number): Chosen<number> => chosen(value, `${value} m`);

describe('another focal length', () => {
  it('costs a shift that grows from the middle, and a warp undoes it', () => {
    // edge 2048 · 0.5 / 35 = 29.26, corner 2315.34 · 0.5 / 35 = 33.08
    const found = only({ lens: { focalLengthMm: chosen(35.5) } });
    expect(found).toMatchObject({ code: 'focal-length-differs', severity: 'warn', measured: { value: 33.08, unit: 'px' }, allowed: { value: 2, unit: 'px' } });
    expect(found.consequence).toContain('is 35.5 mm, of the lead A 35 mm (everything is 1.429 % larger in the frame): the set does not meet along the split, worst in the corners. ' +
      'That is 29 px at the edge and 33 px in the corner of a 4096 px plate; a warp can undo it (a scale).');
    // It does not rest on the size of the sensor.
    expect(found.evidence.join()).not.toContain('assumed');
  });

  it('is nothing where a tenth of a pixel is', () => {
    // 2315.34 · 0.03 / 35 = 1.98 px, 0.031 mm: 2.05 px
    expect(findings({ lens: { focalLengthMm: chosen(35.03) } })).toEqual([]);
    expect(only({ lens: { focalLengthMm: chosen(35.031) } }).severity).toBe('warn');
  });

  it('is counted at the raster: half the px and half the limit on a plate of 2048', () => {
    const found = only({ lens: { focalLengthMm: chosen(35.5) } }, { picture: { raster: chosen({ width: 2048, height: 1080 }) } });
    expect([found.measured?.value, found.allowed?.value]).toEqual([16.54, 1]);
  });

  it('stops when re-framing would cost too much of the picture', () => {
    // 2315.34 · 2 / 35 = 132.3 px, 3.2 % of 4096
    const found = only({ lens: { focalLengthMm: chosen(37) } });
    expect([found.severity, found.measured?.value]).toEqual(['stop', 132.3]);
    expect(found.consequence).toContain("at the cost of 5.4 % of the picture's width and 5.4 % of its height (10.5 % of its area)");
  });

  it('through another lens is given in percent: no px figure holds', () => {
    const serials = (serial: string): Partial<LensFacts> => ({ serial: chosen(serial) });
    const found = findings({ lens: { ...serials('CP-2'), focalLengthMm: chosen(35.5) } }, { lens: serials('CP-1') }).find(({ code }) => code === 'focal-length-differs');
    expect(found?.measured).toEqual({ value: 1.429, unit: '%' });
    expect(found?.evidence.at(-1)).toBe('px not known: the passes were shot with different lenses, which bend the picture differently; focal_length_percent decides');
  });
});

describe('another height', () => {
  it('costs parallax, which no warp undoes', () => {
    // 5759.74 · 20 · (1/2000 − 1/6000) = 38.40; the wall alone 5759.74 · 20 / 6000 = 19.20
    const found = only({ position: { heightM: metres(1.44) } });
    expect(found).toMatchObject({ code: 'height-differs', severity: 'stop', measured: { value: 38.4, unit: 'px' }, allowed: { value: 1, unit: 'px' } });
    expect(found.consequence).toContain('What is 2 m away shifts by 38 px of a 4096 px plate against what is 6 m away: that is parallax, and no warp can undo it; ' +
      'a warp can undo only the 19 px of what is far.');
    expect(found.evidence).toContain(ASSUMED);
  });

  it('of one step of the tape is looked at, not shot again: 142 and 143 cm may be a millimetre apart', () => {
    expect(only({ position: { heightM: metres(1.43) } })).toMatchObject({ severity: 'warn', measured: { value: 19.2 } });
    // 12.5 mm, to the half millimetre: 5759.74 · 12.5 · 0.00033333 = 24.0
    expect(only({ position: { heightM: metres(1.4325) } })).toMatchObject({ severity: 'stop', measured: { value: 24 } });
  });

  it('is nothing where everything stands far away', () => {
    // 5759.74 · 5 · (1/40000 − 1/60000) = 0.24
    expect(findings({ position: { heightM: metres(1.425) } }, { position: { subjectDistanceM: metres(40), backgroundDistanceM: metres(60) }, lens: { focusDistanceM: chosen(40) } })).toEqual([]);
  });

  it('is bounded without a background distance, and says what to measure', () => {
    // at most 5759.74 · 20 / 2000 = 57.60
    const found = only({ position: { heightM: metres(1.44) } }, { position: { backgroundDistanceM: undefined } });
    expect(found).toMatchObject({ severity: 'warn', measured: { value: 20, unit: 'mm' }, allowed: { value: 2, unit: 'mm' } });
    expect(found.consequence).toContain('What is 2 m away shifts by at most 58 px of a 4096 px plate against what lies behind it, however far: that is parallax, and no warp can undo it. ' +
      'To know more, write background_distance into the report.');
    expect(found.evidence.at(-1)).toBe('parallax is known only as a bound, for want of the background distance: height_mm decides');
  });

  it('is harmless for certain where even the bound is', () => {
    // at most 5759.74 · 4 / 30000 = 0.77
    expect(findings({ position: { heightM: metres(1.424) } }, { position: { subjectDistanceM: metres(30), backgroundDistanceM: undefined }, lens: { focusDistanceM: chosen(30) } })).toEqual([]);
  });

  it('is said by distance where nothing is known of distances', () => {
    // 5759.74 · 20 mm = 115.2 px · m: 23 px at 5 m, under 1 px beyond 115.2 m
    const nowhere = { position: { subjectDistanceM: undefined, backgroundDistanceM: undefined }, lens: { focusDistanceM: chosen(Number.POSITIVE_INFINITY) } };
    const found = only({ position: { ...nowhere.position, heightM: metres(1.44) } }, nowhere);
    expect(found.consequence).toContain('A thing 5 m away shifts by 23 px of a 4096 px plate against what lies far behind it, and no warp can undo that; beyond 115.2 m it stays under 1 px. ' +
      'To know more, write subject_distance and background_distance into the report.');
  });

  it('takes the performer to stand where the lens is focused, and says so', () => {
    const found = only({ position: { heightM: metres(1.44) } }, { position: { subjectDistanceM: undefined } });
    expect(found.measured).toEqual({ value: 38.4, unit: 'px' });
    expect(found.evidence).toContain('assumed: subject distance is not on record: the subject is taken to stand where the lens is focused, 2 m');
  });

  it('is told in px and judged in millimetres for a move by hand, and for an element, which is placed by itself', () => {
    const byHand = only({ position: { heightM: metres(1.44) } }, {}, { method: method('handheld', { movingCamera: true }) });
    expect(byHand).toMatchObject({ severity: 'warn', measured: { value: 20, unit: 'mm' } });
    expect(byHand.consequence).toContain('38 px');
    // The performer alone shifts as a whole: 5759.74 · 20 / 2000 = 57.6 in the middle
    const element = only({ position: { heightM: metres(1.44) } }, {}, { role: 'element' });
    expect(element).toMatchObject({ severity: 'warn', measured: { value: 20, unit: 'mm' } });
    expect(element.consequence).toContain('That is 58 px of a 4096 px plate at 2 m; a warp can undo it (a shift).');
  });
});

describe('another tilt or roll', () => {
  it('costs a shift that a warp undoes', () => {
    // 5759.74 · tan 0.3° = 30.16 in the middle; roll: 2 · 2315.34 · sin 0.15° = 12.12 in the corner, 2 · 2048 · sin 0.15° = 10.72 at the edge
    const tilt = only({ position: { tiltDeg: chosen(0.3) } });
    expect(tilt.severity).toBe('warn');
    expect(tilt.consequence).toMatch(/\(0\.3° apart\).* That is 30 px in the middle, 30 px at the edge and \d+ px in the corner of a 4096 px plate; a warp can undo it \(a shift and, for the [\d.]+ px a shift leaves, a corner pin\)\./);
    expect(tilt.evidence).toContain(ASSUMED);
    const roll = only({ position: { rollDeg: chosen(0.3) } });
    expect(roll).toMatchObject({ severity: 'warn', measured: { value: 12.12, unit: 'px' } });
    expect(roll.consequence).toContain('That is 11 px at the edge and 12 px in the corner of a 4096 px plate; a warp can undo it (a turn).');
    expect(roll.evidence).not.toContain(ASSUMED);
  });
});

describe('another distance', () => {
  it('to the background is a camera that stood elsewhere along its view', () => {
    // 100 mm ahead: corner 2315.34 · 100 · (1/1900 − 1/5900) = 82.62
    const found = only({ position: { backgroundDistanceM: metres(5.9) } });
    expect(found).toMatchObject({ code: 'position-differs', severity: 'stop', measured: { value: 82.62, unit: 'px' } });
  });

  it('to the subject alone is a performer on another mark, when the background is where it was', () => {
    const found = only({ position: { subjectDistanceM: metres(2.6) } });
    expect(found).toMatchObject({ severity: 'note', measured: { value: 600, unit: 'mm' } });
    expect(found.consequence).toContain('whoever was measured to stood elsewhere');
  });

  it('to the subject may be either without a background distance', () => {
    const found = only({ position: { subjectDistanceM: metres(2.05), backgroundDistanceM: undefined } }, { position: { backgroundDistanceM: undefined } });
    expect(found).toMatchObject({ severity: 'warn', measured: { value: 50, unit: 'mm' } });
    expect(found.consequence).toContain('Write background_distance into the report of both passes: it tells which.');
  });
});

describe('another focus', () => {
  it('costs sharpness; breathing is an estimate that decides nothing', () => {
    // Focused at 2.2 m on the barrel u = (2200 + √(2200 · 2060)) / 2 = 2164.42 and v = 35.575, so the subject is 1964.425 from the lens:
    // (35² / 2.8284) · (1/1964.425 − 1/2164.42) · 2164.42 / 2129.42 = 0.020705 mm = 3.41 px where the lead is sharp. On the wall
    // 433.1 · (1/1964.37 − 1/5964.36) · 1.01814 = 0.15055 mm in the lead and 433.1 · (1/2164.42 − 1/5964.43) · 1.01644 = 0.12958 mm: 3.45 px apart.
    const found = only({ lens: { focusDistanceM: chosen(2.2) } });
    expect(found).toMatchObject({ code: 'focus-differs', severity: 'warn', measured: { value: 3.45, unit: 'px' }, allowed: { value: 1, unit: 'px' } });
    expect(found.consequence).toContain('Blur on a 4096 px plate: at 2 m 0 px in the lead, 3.4 px in the pass; at 6 m');
    expect(found.consequence).toContain('The lens may breathe by about');
    expect(found.evidence.join()).toContain('the T-number stands in for the f-number');
  });

  it('is nothing with much depth, and looked at in dioptres without a stop', () => {
    // (35² / 22.627) · (1/2 − 1/2.1 m) = 1.3e-3 mm = 0.21 px
    expect(findings({ lens: { stop: chosen({ kind: 'T', number: 22 }), focusDistanceM: chosen(2.1) } }, { lens: { stop: chosen({ kind: 'T', number: 22 }) } })).toEqual([]);
    const noStop = { lens: { focalLengthMm: chosen(35), focusDistanceM: chosen(2) } };
    const all = given(passesOf({ ...clip({}), ...noStop }, { ...clip({}), lens: { focalLengthMm: chosen(35), focusDistanceM: chosen(2.1) } }));
    expect(checkLens(...all)[0]).toMatchObject({ severity: 'warn', measured: { value: 0.0238, unit: 'dioptre' } });
    expect(checkLens(...all)[0]?.evidence.at(-1)).toBe('px not known: stop of the lead, stop of the pass not on record; focus_dioptre decides');
  });
});

describe('another exposure', () => {
  const nd = (density: number): Partial<LensFacts> => ({ filters: chosen({ text: `ND${density}`, ndDensity: density }) });
  const t = (number: number): Partial<LensFacts> => ({ stop: chosen({ kind: 'T' as const, number }) });

  it('of iris and neutral density together is what counts for light; the depth of field stays another', () => {
    // T2.8 to T4 is −1 stop, ND.6 to ND.3 +0.3/0.30103 = +0.9966: together −0.0034
    const found = findings({ lens: { ...t(4), ...nd(0.3) } });
    expect(found.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['stop-differs warn', 'filter-differs note']);
    expect(found[0]?.measured?.unit).toBe('px');
    // The figure is the density's own share; the sum stands in the words.
    expect(found[1]).toMatchObject({ measured: { value: 0.997, unit: 'stops' } });
    expect(found[1]?.consequence).toContain('Light on the sensor against the lead: iris −1 stop, neutral density +1 stop, together 0 stop.');
  });

  it('adds up: a stop of iris and a stop of density are two', () => {
    // −1 − 0.9966
    const found = findings({ lens: { ...t(4), ...nd(0.9) } });
    expect(found.map(({ severity, measured }) => [severity, measured])).toEqual([['stop', { value: 1, unit: 'stops' }], ['stop', { value: 0.997, unit: 'stops' }]]);
    expect(found[0]?.consequence).toContain('together −2 stop');
  });

  it('says what is taken to be alike', () => {
    const { filters: _none, ...noFilters } = LENS;
    const all = given(passesOf({ ...clip({}), lens: noFilters }, { ...clip({}), lens: { ...noFilters, ...t(4) } }));
    expect(checkLens(...all)[0]?.evidence).toContain('assumed: neutral density is not on record for both: taken to be alike');
  });

  it('by the shutter keeps its blur whatever the light', () => {
    // 40 · 180/360 = 20 and 40 · 172.8/360 = 19.2
    const found = only({ exposure: { shutterDeg: chosen(172.8) } });
    expect(found).toMatchObject({ severity: 'warn', measured: { value: 7.2, unit: '°' } });
    expect(found.consequence).toContain('What moves 40 px a frame smears 20 px in the lead and 19 px in the pass, which no filter undoes.');
  });

  it('of a full stop by the marks is a stop with a shutter of 1/50 or without, and the shutter has no blame for it', () => {
    // 1/50 s at 24 fps is 172.8°: log2(172.8/180) = −0.059
    const found = findings({ lens: { ...t(4) }, exposure: { shutterDeg: chosen(172.8) } });
    expect(findings({ lens: t(4) }).map(({ code, severity }) => `${code} ${severity}`)).toEqual(['stop-differs stop']);
    expect(found.map(({ code, severity, measured }) => [code, severity, measured])).toEqual([
      ['shutter-differs', 'warn', { value: 7.2, unit: '°' }],
      ['stop-differs', 'stop', { value: 1, unit: 'stops' }],
    ]);
    expect(found[1]?.consequence).toContain('iris −1 stop, exposure time −0.06 stop, together −1.06 stop');
  });

  it('by EI or white balance is metadata where both are raw, and in the picture where they are not', () => {
    const differs = { exposure: { ei: chosen(3200), whiteBalanceK: chosen(3200) } };
    const severities = (codec: string): readonly string[] => {
      const recorded = { picture: { codec: chosen(codec) } };
      const all = given(passesOf({ exposure: { ei: chosen(800), whiteBalanceK: chosen(5600) }, ...recorded }, { ...differs, ...recorded }));
      return checkCamera(...all).map(({ code, severity, consequence }) => `${code} ${severity} ${consequence.includes('metadata only')}`);
    };
    for (const raw of ['ProRes RAW HQ', 'REDCODE', 'ARRIRAW', 'X-OCN ST', 'Blackmagic RAW', 'BRAW', 'CinemaDNG']) {
      expect(severities(raw)).toEqual(['sensitivity-differs warn true', 'white-balance-differs warn true']);
    }
    expect(severities('ProRes 4444')).toEqual(['sensitivity-differs stop false', 'white-balance-differs stop false']);
  });

  it('by the sensor rate and the EI says what comes of it', () => {
    // log2(24/48) = −1 at one angle
    const rate = findings({ over: { sensorRate: frameRate(48) } }).find(({ code }) => code === 'sensor-rate-differs');
    expect(rate?.consequence).toContain('Light on the sensor against the lead: exposure time −1 stop.');
    const ei = findings({ exposure: { ei: chosen(1600) }, lens: t(4) }).find(({ code }) => code === 'sensitivity-differs');
    expect(ei?.consequence).toContain('Light on the sensor against the lead: iris −1 stop, 0 stop once developed as rated.');
  });
});

describe('the limits', () => {
  it('of a repeat card are those from which a person must look, at the plate', () => {
    expect(limitsOf(checkRules().tolerances, 2048)).toEqual({ shiftPx: 1, parallaxPx: 0.5, blurPx: 0.5, stops: 0.1 });
  });
});
