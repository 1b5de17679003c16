import type { Edit } from './mov-track.ts';

/** What of a track is shown: the first sample that is, and how many. */
export interface Shown {
  readonly firstSample: number;
  readonly samples: number;
  /** How the edit list changed it, in words; "" when it changed nothing. */
  readonly trim: string;
}

/** A track's own measure, as far as edits need it. */
export interface EditedTrack {
  readonly edits: readonly Edit[];
  readonly timescale: number;
  readonly samples: number;
  /** Length of one sample in ticks of the track. */
  readonly sampleTicks: number;
  readonly firstShownTicks: number;
}

/**
 * The samples an edit list lets through. An edit that starts at the first sample's presentation time trims nothing: writers of
 * reordered pictures (H.264 with B-frames) begin there. Gaps (`mediaTime` -1) delay a track and are left out. Of several edits the first sets
 * the start and all add to the length.
 */
export function shownSamples(track: EditedTrack, movieTimescale: number): Shown {
  const whole: Shown = { firstSample: 0, samples: track.samples, trim: '' };
  const edits = track.edits.filter((edit) => edit.mediaTime >= 0);
  const first = edits[0];
  if (first === undefined || track.sampleTicks <= 0 || movieTimescale <= 0) return whole;
  const firstSample = clamp(Math.round((first.mediaTime - track.firstShownTicks) / track.sampleTicks), 0, track.samples);
  const movieTicks = edits.reduce((sum, edit) => sum + edit.durationTicks, 0);
  const left = track.samples - firstSample;
  // A length of 0 is written by fragmented files, whose length is not known yet: the whole track.
  const shown = movieTicks === 0 ? left : clamp(Math.round((movieTicks * track.timescale) / movieTimescale / track.sampleTicks), 0, left);
  if (firstSample === 0 && shown === track.samples) return whole;
  return { firstSample, samples: shown, trim: `edit list: frames ${firstSample} to ${firstSample + shown - 1} of ${track.samples} are shown` };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}
