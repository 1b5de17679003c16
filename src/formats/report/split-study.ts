import type { MatchPicture } from '../../core/picture/measure/match-picture.ts';
import { exposureOf, registrationOf, splitOf, syncOf, toldOf } from './report-picture.ts';

/** What `gemel split --json` prints: the line first, then what it rests on. */
export function formatSplitStudy(picture: MatchPicture): string {
  const { split, raster, offset } = picture;
  const { verdict, kind, line, corridor, badFrames, confidence, ...more } = split === undefined ? unstudied() : splitOf(split);
  const { lead, pass } = picture.grain.kind === 'measured' ? picture.grain : { lead: null, pass: null };
  const study = {
    verdict, kind, line, corridor, badFrames,
    registration: toldOf(picture.registration, registrationOf),
    exposure: exposureOf(picture.exposure),
    noise: { lead, swapped: pass },
    confidence,
    ...more,
    raster: { width: raster.width, height: raster.height },
    offset: offset + 0,
    sound: syncOf(picture.sound),
    cameraMotion: syncOf(picture.cameraMotion),
  };
  return `${JSON.stringify(study, null, 2)}\n`;
}

function unstudied(): ReturnType<typeof splitOf> {
  return {
    verdict: 'cannot tell', kind: null, line: [], keys: [], corridor: null, margin: null, slip: null, badFrames: [], culprits: [], segments: [], framesUsed: 0, spread: 0, threshold: 0,
    confidence: 0, reasons: ['no line was looked for'],
  };
}
