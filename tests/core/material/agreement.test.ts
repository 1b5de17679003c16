import { describe, expect, it } from 'vitest';
import type { ComparingContext } from '../../../src/core/material/agreement.ts';
import { agrees } from '../../../src/core/material/agreement.ts';
import type { SourceKind } from '../../../src/core/material/statement.ts';
import type { FrameRate } from '../../../src/core/timecode/rate.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { statement } from '../../support/make-clips.ts';

const CONTEXT: ComparingContext = { sourcesPercent: 2, lengthFrames: 1, shutterRate: frameRate(24), timecodeFormat: undefined, serialBeside: () => undefined };
const FILM = frameRate(24000, 1001);

const fps = (kind: SourceKind, rate: FrameRate) => statement('fps', rate, { kind, file: `${kind}.x`, place: '' });

// That crews write 24 for 23.976 is common practice, no source.
describe('rates of one clip', () => {
  it('agree when a report writes 24 for a file at 23.976, whichever comes first', () => {
    expect(agrees(fps('embedded', FILM), fps('report', frameRate(24)), CONTEXT)).toBe(true);
    expect(agrees(fps('report', frameRate(24)), fps('embedded', FILM), CONTEXT)).toBe(true);
  });

  it('disagree when a report takes the trouble to write 23.976 for a file at 24', () => {
    expect(agrees(fps('embedded', frameRate(24)), fps('report', FILM), CONTEXT)).toBe(false);
  });

  it('disagree when two exact sources differ, or the whole number is another rate', () => {
    expect(agrees(fps('embedded', FILM), fps('sidecar', frameRate(24)), CONTEXT)).toBe(false);
    expect(agrees(fps('embedded', FILM), fps('report', frameRate(25)), CONTEXT)).toBe(false);
  });
});
