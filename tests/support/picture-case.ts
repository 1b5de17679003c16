/**
 * One scene with known truth, put to one measurement. `truth` says what a right answer is: a number within `limit` of the
 * truth ('measured'), a fault found ('found'), no fault said ('quiet'), or a refusal ('cannot tell').
 */
export interface PictureCase {
  readonly subject: string;
  readonly name: string;
  readonly truth: 'measured' | 'found' | 'quiet' | 'cannot tell';
  /** Largest error allowed, in `unit`, for 'measured'. */
  readonly limit?: number;
  readonly unit?: string;
  readonly run: () => PictureAnswer;
}

export interface PictureAnswer {
  readonly kind: 'measured' | 'found' | 'quiet' | 'cannot tell';
  /** Distance from the truth in the case's unit. */
  readonly error?: number;
  /** What was answered, for the reader of a failed test. */
  readonly words: string;
}

export type Outcome = 'right' | 'miss' | 'false alarm' | 'off';

/**
 * What an answer is worth. A refusal where something could be measured or found is a miss; a fault or a number where there is
 * none is a false alarm; a number too far from the truth is off.
 */
export function outcomeOf({ truth, limit }: PictureCase, answer: PictureAnswer): Outcome {
  if (answer.kind !== truth) return truth === 'measured' || truth === 'found' ? 'miss' : 'false alarm';
  return truth === 'measured' && !((answer.error ?? Infinity) <= (limit ?? 0)) ? 'off' : 'right';
}
