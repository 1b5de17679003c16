import type { FrameRate } from '../../core/timecode/rate.ts';
import type { WrittenClip, WrittenMedia, WrittenTrack } from '../otio/format-otio.ts';
import { formatOtio } from '../otio/format-otio.ts';
import type { ShotFile, ShotPass } from './shot-file.ts';

/**
 * The shot as an OpenTimelineIO timeline: a track a pass, bottom first with the lead on top, so that one position is one moment on
 * all of them. Where frames are missing there is a gap, never a shorter clip. `sourceStart` is the timecode of a clip's first
 * frame as a frame count, 0 for a clip without timecode.
 */
export function formatShotOtio(shot: ShotFile, rate: FrameRate, sourceStart: (pass: ShotPass) => number): string {
  const passes = shot.passes.filter(({ role }) => role !== 'reference').toReversed();
  return formatOtio({
    name: shot.shot,
    rate,
    start: shot.numbers.first,
    tracks: passes.map((pass, index): WrittenTrack => {
      const before = passes.slice(0, index).filter((other) => other.role === pass.role).length;
      const clip = clipOf(shot, pass, sourceStart(pass));
      return { name: before === 0 ? pass.role : `${pass.role} ${before + 1}`, clips: clip === undefined ? [] : [clip], metadata: { pass: pass.role } };
    }),
    metadata: { schema: shot.schema, revision: shot.revision, firstFrameNumber: shot.numbers.first, cut: shot.cut, note: 'Timeline positions count frame numbers: the first frame is frame number firstFrameNumber.' },
  });
}

function clipOf(shot: ShotFile, pass: ShotPass, sourceStart: number): WrittenClip | undefined {
  const { numbers, source } = pass;
  if (numbers === null || source === null) return undefined;
  return {
    name: pass.clip.slice(pass.clip.lastIndexOf('/') + 1),
    at: numbers.first - shot.numbers.first,
    frames: source.last - source.first + 1,
    sourceStart: sourceStart + source.first,
    media: mediaOf(pass),
    metadata: { pass: pass.role, clip: pass.clip, slate: pass.slate, lies: pass.lies, sync: pass.sync, retime: pass.retime },
  };
}

/** The pulled frames where they are all there, by a path from the timeline's own folder; else the clip by its name. */
function mediaOf({ pictures, clip }: ShotPass): WrittenMedia {
  const [run, ...others] = pictures?.numbers ?? [];
  if (pictures === null || run === undefined || others.length > 0) return { kind: 'file', url: encodeURI(clip) };
  const inShot = pictures.files.slice(pictures.files.indexOf('/') + 1);
  const slash = inShot.lastIndexOf('/') + 1;
  const [prefix = '', suffix = ''] = inShot.slice(slash).split('#'.repeat(pictures.padding));
  return { kind: 'sequence', base: encodeURI(inShot.slice(0, slash)), prefix, suffix, firstNumber: run.first, padding: pictures.padding };
}
