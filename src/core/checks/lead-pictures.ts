import type { ClipId } from '../material/clip.ts';
import type { MatchPicture } from '../picture/measure/match-picture.ts';

/** What the pictures of a lead and its passes say, or why they could not be looked at. `elements` in the order of the picture's. */
export type LeadPictures =
  | {
      readonly kind: 'measured';
      readonly lead: ClipId;
      readonly swapped?: ClipId;
      readonly clean?: ClipId;
      readonly elements: readonly ClipId[];
      readonly picture: MatchPicture;
      /** Clips that gave way to a proxy or reference movie, with its file. */
      readonly standIns: readonly { readonly clip: ClipId; readonly file: string }[];
    }
  | { readonly kind: 'not-measured'; readonly lead: ClipId; readonly why: string };
