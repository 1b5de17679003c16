import { visibleText } from './visible-text.ts';

/** How a watch stands. */
export interface Health {
  readonly state: 'looking' | 'working' | 'away' | 'failed';
  readonly files: number;
  readonly waiting: number;
  readonly sets: { readonly yes: number; readonly look: number; readonly no: number } | undefined;
  readonly trouble: string | undefined;
}

/** One line for the cart: "watching 412 files, 2 not settled yet | clear to strike: 50 yes, 3 look, 4 no". */
export function formatHealth({ state, files, waiting, sets, trouble }: Health): string {
  const doing = state === 'working' ? 'judging' : state === 'looking' ? 'watching' : state === 'away' ? 'waiting' : 'in trouble';
  const resting = waiting === 0 ? '' : `, ${waiting} not settled yet`;
  const verdicts = sets === undefined ? 'nothing judged yet' : `clear to strike: ${sets.yes} yes, ${sets.look} look, ${sets.no} no`;
  return [`${doing} ${files} files${resting}`, verdicts, ...(trouble === undefined ? [] : [visibleText(trouble)])].join(' | ');
}
