import type { SlateGrammar } from '../slate/grammar.ts';
import type { Role } from './clip.ts';
import type { Correction } from './correction.ts';
import type { Method } from './method.ts';
import type { Tolerances } from './tolerance.ts';

/** A word or phrase, lower case, and the role it names: "clean plate" is `clean`. */
export interface RoleWord {
  readonly word: string;
  readonly role: Role;
}

/** What grouping goes by. A pipeline's configuration satisfies it as it stands. */
export interface GroupRules {
  readonly slateGrammar: SlateGrammar;
  readonly roleWords: readonly RoleWord[];
  readonly methods: Readonly<Record<string, Method>>;
  /** Name of the method of a set for which nobody names one. */
  readonly defaultMethod: string;
  readonly corrections: readonly Correction[];
  readonly tolerances: Pick<Tolerances, 'sourcesPercent' | 'lengthFrames'>;
}
