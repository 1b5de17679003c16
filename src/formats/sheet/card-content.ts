import type { Fact, Footer, Paper } from './content.ts';

/** One page for the crew: which pass is still to be shot and everything it must repeat, to be read at arm's length. */
export interface RepeatCardContent {
  readonly kind: 'repeat-card';
  readonly paper: Paper;
  readonly accent: string;
  readonly title: string;
  readonly show: string;
  /** "27B" */
  readonly name: string;
  readonly beside: string;
  /** "Shoot the swapped pass" */
  readonly order: string;
  /** Who stands where, and which lead to repeat. */
  readonly like: string;
  readonly sections: readonly CardPart[];
  readonly missing: readonly MissingMeasure[];
  /** What the ± on the card keep, and how to meet the finest of them; empty when there are none. */
  readonly within: readonly string[];
  /** What was taken for granted in working them out. */
  readonly taken: readonly string[];
  readonly sources: string;
  readonly footer: Footer;
}

/** A part of the card: big facts, and the marks of the move. */
export interface CardPart {
  readonly heading: string;
  readonly facts: readonly CardFact[];
  readonly marks?: readonly CardMark[];
  /** What holds for all the marks. */
  readonly remark?: string;
}

/** A value to set again. `tolerance`: "± 0.64 cm"; `also`: the same in other units and what follows from it; `mark`: the number of its source. */
export interface CardFact extends Fact {
  readonly tolerance?: string;
  readonly also?: string;
  readonly mark?: string;
}

/** One mark of the move. `time`: "+4.50 s"; `values`: place, turn and lens, one text each. */
export interface CardMark {
  readonly name: string;
  readonly time: string;
  readonly also: string;
  readonly values: readonly string[];
}

/** A value nobody noted, or noted as it cannot be: what it is, and what follows (may be empty). */
export interface MissingMeasure {
  readonly what: string;
  readonly why: string;
}

/** Stands over the list of missing measures, on paper and on a phone. */
export const MISSING_TITLE = 'Not on record: read or measure it before the camera moves';
