import { describe, expect, it } from 'vitest';
import { worstFor } from '../../../src/core/checks/relevance.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { chosen, makeFullClip } from '../../support/make-matched.ts';
import { judgeScene, said, soundScene, withPass } from './scene.ts';

/** Shot on another day with another camera: nothing of it agrees with the lead. */
function unlike(clip: Clip): Clip {
  return {
    ...clip,
    rate: frameRate(25),
    sensorRate: frameRate(25),
    lens: { serial: chosen('X'), focalLengthMm: chosen(85), focusDistanceM: chosen(0.5), stop: chosen({ kind: 'T', number: 16 }, 'T16'), filters: chosen({ text: 'none', ndDensity: 0 }, 'none'), squeeze: chosen(2) },
    exposure: { shutterDeg: chosen(45), ei: chosen(6400), whiteBalanceK: chosen(3200) },
    position: { heightM: chosen(0.2), tiltDeg: chosen(30), rollDeg: chosen(9), subjectDistanceM: chosen(0.5), backgroundDistanceM: chosen(1) },
    picture: { raster: chosen({ width: 1920, height: 1080 }, '1920 x 1080', 'embedded'), codec: chosen('Other', 'Other', 'embedded'), cameraSerial: chosen('9', '9', 'embedded') },
  };
}

describe('what a pass must share with its lead', () => {
  it('is only its light for a reference, and that is worth a note', () => {
    expect(said(judgeScene({ ...soundScene(), more: [unlike(makeFullClip(4, 'reference'))] }).findings)).toEqual([
      'filter-differs note', 'sensitivity-differs note', 'stop-differs note', 'white-balance-differs note',
    ]);
  });

  it('is everything for a clean plate, but not the distance to a performer who is not in it', () => {
    const scene = soundScene();
    const nobody = { ...scene.clean.position, subjectDistanceM: chosen(9) };
    expect(judgeScene(withPass(scene, 'clean', { position: nobody })).findings).toEqual([]);
    const { backgroundDistanceM: _distance, ...there } = unlike(scene.clean).position;
    expect(said(judgeScene(withPass(scene, 'clean', { position: there })).findings)).toEqual(['height-differs stop', 'roll-differs stop', 'tilt-differs stop']);
  });

  it('is where the camera stood for an element, while its light can be matched', () => {
    const element = unlike(makeFullClip(4, 'element'));
    const same = makeFullClip(4, 'element');
    const lit = { ...same, exposure: element.exposure, lens: { ...same.lens, stop: chosen({ kind: 'T' as const, number: 16 }, 'T16') } };
    expect(said(judgeScene({ ...soundScene(), more: [lit] }).findings)).toEqual([
      'sensitivity-differs warn', 'shutter-differs stop', 'stop-differs warn', 'white-balance-differs warn',
    ]);
  });

  it('is never worse than a role allows', () => {
    expect([worstFor('swapped', 'codec-differs'), worstFor('clean', 'codec-differs'), worstFor('element', 'codec-differs'), worstFor('reference', 'codec-differs')]).toEqual([
      'stop', 'note', 'note', undefined,
    ]);
  });
});

describe('a role', () => {
  it('that a person corrected is no conflict any more', () => {
    const evidence = [
      { role: 'swapped', kind: 'correction', weight: 1, words: 'corrections.yaml, line 2' },
      { role: 'lead', kind: 'log', weight: 0.95, words: 'the log says lead' },
    ] as const;
    expect(judgeScene(withPass(soundScene(), 'swapped', { roleEvidence: evidence })).findings).toEqual([]);
  });

  it('that two places contradict alike is taken for nothing, and said once', () => {
    const evidence = [
      { role: 'lead', kind: 'log', weight: 0.95, words: 'log.tsv, line 2, says "lead"' },
      { role: 'swapped', kind: 'log', weight: 0.95, words: 'log.tsv, line 7, says "SW"' },
    ] as const;
    const torn = makeFullClip(4, 'unknown', { roleEvidence: evidence });
    const scene = soundScene({ more: [torn], leftOver: [{ clip: torn.id, why: 'nothing tells which pass it is' }] });
    const { findings } = judgeScene(scene);
    expect([said(findings), findings[0]?.consequence]).toEqual([['role-conflict warn'], 'A003C004 is called lead pass and swapped pass in different places; it is taken for neither.']);
  });

  it('that a folder name contradicts is no conflict: the log outvotes it', () => {
    const scene = soundScene();
    const evidence = [...scene.swapped.roleEvidence, { role: 'clean', kind: 'name', weight: 0.6, words: 'folder name "clean"' }] as const;
    expect(judgeScene(withPass(scene, 'swapped', { roleEvidence: evidence })).findings).toEqual([]);
  });

  it('that shooting order contradicts is no conflict: order is a guess', () => {
    const scene = soundScene();
    const evidence = [...scene.swapped.roleEvidence, { role: 'clean', kind: 'order', weight: 0.3, words: 'last of three' }] as const;
    expect(judgeScene(withPass(scene, 'swapped', { roleEvidence: evidence })).findings).toEqual([]);
  });

  it('that only shooting order tells is one finding for the whole set, and the set wants a look', () => {
    const guessed: Partial<Clip> = { roleConfidence: 0.3, roleEvidence: [{ role: 'lead', kind: 'order', weight: 0.3, words: 'by order' }] };
    const scene = withPass(withPass(soundScene(), 'lead', guessed), 'swapped', guessed);
    const { verdict, findings } = judgeScene(scene);
    expect([verdict, said(findings), findings[0]?.subject.length]).toEqual(['look', ['role-guessed warn'], 2]);
  });

  it('that is guessed does not matter where the clip is not used', () => {
    const scene = withPass(soundScene(), 'lead', { circled: true });
    const other = makeFullClip(4, 'lead', { roleConfidence: 0.3, roleEvidence: [] });
    expect(judgeScene({ ...scene, more: [other] }).findings).toEqual([]);
  });
});
