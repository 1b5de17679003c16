import type { TurnoverFile } from '../turnover/turnover-file.ts';
import { visibleText } from './visible-text.ts';

/** A turnover for the terminal: a line a shot with what changed, then what is left out and why. */
export function formatTurnoverTable({ show, revision, previous, shots, leftOut, dropped }: TurnoverFile): string {
  const width = Math.max(4, ...[...shots, ...leftOut].map(({ shot }) => shot.length));
  const line = (shot: string, what: string, words: string): string => visibleText(`${shot.padEnd(width)}  ${what.padEnd(18)}  ${words}`.trimEnd());
  const missing = leftOut.filter(({ kind }) => kind !== 'ordinary');
  const ordinary = leftOut.length - missing.length;
  const lines = [
    visibleText(`${show === '' ? 'Turnover' : `${show}, turnover`} revision ${revision}${previous === null ? '' : `, against ${previous.package}`}`),
    '',
    ...shots.map(({ shot, change, folder }) => line(shot, change.kinds.join(', '), `${change.words.join(' ')}${folder === null ? ' Not packaged again.' : ''}`)),
    ...dropped.map((shot) => line(shot, 'dropped', 'No longer in the cut.')),
    ...(missing.length === 0 ? [] : ['', 'Left out:', ...missing.map(({ shot, kind, why, remedy }) => line(shot, kind === 'stopped' ? 'stopped' : 'not here', `${why} → ${remedy}`))]),
    ...(ordinary === 0 ? [] : ['', `${ordinary} ordinary ${ordinary === 1 ? 'shot' : 'shots'} of the cut need no turnover.`]),
  ];
  return `${lines.join('\n')}\n`;
}
