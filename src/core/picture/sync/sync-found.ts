/** What sound or camera motion says about how two passes lie over each other. `offset`: swapped frame = lead frame + offset. */
export type SyncAnswer =
  | {
      readonly kind: 'measured';
      /** Whole frames. */
      readonly offset: number;
      /** The same before it was rounded. */
      readonly exactOffset: number;
      /** 0..1. */
      readonly confidence: number;
      readonly words: string;
    }
  | { readonly kind: 'cannot-tell'; readonly why: string };

export function cannotTell(why: string): SyncAnswer {
  return { kind: 'cannot-tell', why };
}
