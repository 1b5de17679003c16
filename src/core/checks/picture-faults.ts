import type { Clip } from '../material/clip.ts';
import type { ClipMotion, ElementPicture, PlateRegistration } from '../picture/measure/match-picture.ts';
import type { PlateDifference } from '../picture/plate/check-plate.ts';
import type { SplitLine } from '../picture/split/split-line.ts';

type Screen = Extract<ElementPicture['screen'], { kind: 'measured' }>;

/** What a fault that pictures show carries beside what every fault carries, before it is put into words. px are of the lead's plate, frames count from 0. */
export type PictureFault =
  | { readonly code: 'misregistered'; readonly lead: Clip; readonly clip: Clip; readonly found: PlateRegistration; readonly parallaxPx?: number }
  | { readonly code: 'exposure-differs'; readonly lead: Clip; readonly clip: Clip; readonly stops: number }
  | { readonly code: 'colour-differs'; readonly lead: Clip; readonly clip: Clip; readonly redStops: number; readonly blueStops: number }
  | { readonly code: 'camera-moved'; readonly clip: Clip; readonly motion: ClipMotion; readonly bump?: { readonly frames: string; readonly px: number } }
  | { readonly code: 'no-split-line'; readonly lead: Clip; readonly clip: Clip; readonly split: SplitLine; readonly frames: string }
  | { readonly code: 'person-in-clean-plate'; readonly clip: Clip; readonly difference?: PlateDifference; readonly frames: string }
  | { readonly code: 'screen-spill' | 'screen-uneven'; readonly clip: Clip; readonly screen: Screen }
  | { readonly code: 'frozen-frames' | 'black-frames'; readonly clip: Clip; readonly frames: string; readonly whole: boolean };
