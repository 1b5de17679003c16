import { verdictWords } from '../turnover/shot-verdict.ts';
import type { LeftOut, TurnoverFile } from '../turnover/turnover-file.ts';
import { visibleText } from './visible-text.ts';

/** More events than this without a shot code are told by their number. */
const TOLD_SINGLY = 5;

/** A turnover for the terminal: a line a shot with what changed and how its plates are judged, then what is left out and why. */
export function formatTurnoverTable({ show, revision, previous, cuts, shots, leftOut, dropped }: TurnoverFile): string {
  const missing = leftOut.filter(({ kind }) => kind !== 'ordinary');
  const nameless = missing.filter(({ kind, shot }) => kind === 'untied' && shot.startsWith('EVENT_')).slice(TOLD_SINGLY);
  const told = missing.filter((one) => !nameless.includes(one));
  const ordinary = leftOut.length - missing.length;
  const width = Math.max(4, ...[...shots, ...told].map(({ shot }) => shot.length), ...dropped.map((shot) => shot.length));
  const verdicts = shots.map(({ judged }) => (judged === undefined ? '' : verdictWords(judged)));
  const verdictWidth = Math.max(0, ...verdicts.map((words) => words.length));
  const line = (...cells: readonly string[]): string => visibleText(cells.join('  ').trimEnd());
  const left = (shot: string, what: string, words: string): string => line(shot.padEnd(width), what.padEnd(CHANGE_WIDTH), words);
  const lines = [
    visibleText(`${show === '' ? 'Turnover' : `${show}, turnover`} revision ${revision}${previous === null ? '' : `, against ${previous.package}`}`),
    '',
    ...shots.map(({ shot, change, folder }, index) => line(
      shot.padEnd(width), change.kinds.join(', ').padEnd(CHANGE_WIDTH), (verdicts[index] ?? '').padEnd(verdictWidth), `${change.words.join(' ')}${folder === null ? ' Not packaged again.' : ''}`,
    )),
    ...dropped.map((shot) => left(shot, 'dropped', `No longer in the ${cuts.length === 0 ? 'shot list' : 'cut'}.`)),
    ...(told.length === 0 ? [] : ['', 'Left out:', ...told.map(({ shot, kind, why, remedy }) => left(shot, KIND_WORDS[kind], `${why} → ${remedy}`))]),
    ...(nameless.length === 0 ? [] : [`and ${nameless.length} more ${nameless.length === 1 ? 'event' : 'events'} of the cut that carry no shot code: turnover.json and changes.csv list them.`]),
    ...(ordinary === 0 ? [] : ['', `${ordinary} ordinary ${ordinary === 1 ? 'shot' : 'shots'} of the cut need no turnover.`]),
  ];
  return `${lines.join('\n')}\n`;
}

const CHANGE_WIDTH = 12;

const KIND_WORDS: Readonly<Record<LeftOut['kind'], string>> = { stopped: 'stopped', 'not-here': 'not here', untied: 'in doubt', 'not-in-cut': 'not in cut', ordinary: 'ordinary' };
