/** How slates are written on this show. Data of the pipeline file; the defaults cover common practice. */
export interface SlateGrammar {
  /** `scene-letter`: 27B take 3. `running`: slate 214 take 2. `either` tries scene-letter first. */
  readonly style: 'scene-letter' | 'running' | 'either';
  /** Letters never used for set-ups (I and O by common practice, no source). */
  readonly skippedLetters: string;
  /** Prefixes that may stand before the scene ("VFX", "2U"). */
  readonly prefixes: readonly string[];
  /** Slate suffixes that name a pass: "SW", "CP". Matched without regard to case, after "-", "_", "." or a space. */
  readonly suffixes: readonly string[];
  readonly takeWords: readonly string[];
  readonly pickUpWords: readonly string[];
  readonly seriesWords: readonly string[];
  /** Words before the slate a clip is for: "for 27B", "plate for 27B". */
  readonly forWords: readonly string[];
}
