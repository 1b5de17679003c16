import { formatCsv } from '../tables/inert-cell.ts';
import { runWords } from './pull-list.ts';
import type { ShotFile } from './shot-file.ts';
import { shotVerdict, VERDICT_WORDS } from './shot-verdict.ts';
import type { TurnoverFile } from './turnover-file.ts';

const COUNTED = [
  'shot', 'revision', 'change', 'vendor', 'slate', 'pass', 'clip', 'cut_first', 'cut_last', 'head', 'tail', 'first_frame', 'last_frame', 'frames', 'missing', 'files', 'movie', 'fps', 'verdict', 'stops',
  'warnings', 'why',
];

/** The count sheet of a turnover: a row a shot and pass that is in the package, then a row for whatever is left out. Frame numbers, both ends in. */
export function formatCountSheet(shots: readonly ShotFile[], { leftOut, revision }: Pick<TurnoverFile, 'leftOut' | 'revision'>): string {
  const left = leftOut.filter(({ kind }) => kind !== 'ordinary').map(({ shot, kind, why, remedy }) => {
    const cells: Readonly<Record<string, string>> = { shot, revision: String(revision), change: `left out: ${kind}`, frames: '0', files: '0', why: `${why} ${remedy}`.trim() };
    return COUNTED.map((heading) => cells[heading] ?? '');
  });
  return formatCsv([COUNTED, ...shots.flatMap(rowsOf), ...left]);
}

function rowsOf(shot: ShotFile): readonly (readonly string[])[] {
  const { verdict, stops, warnings } = shotVerdict(shot);
  return shot.passes.map((pass) => [
    shot.shot, String(shot.revision), shot.change.kinds.join(', '), shot.vendor ?? '', shot.slate, pass.role, pass.clip, String(shot.cut.first), String(shot.cut.last),
    String(shot.handles.head), String(shot.handles.tail), pass.numbers === null ? '' : String(pass.numbers.first), pass.numbers === null ? '' : String(pass.numbers.last),
    pass.numbers === null ? '0' : String(pass.numbers.last - pass.numbers.first + 1), pass.missing.map(({ first, last }) => runWords(first, last)).join('; '),
    String(pass.pictures?.count ?? 0), pass.movie === null ? '' : 'yes', pass.rate ?? '', VERDICT_WORDS[verdict], String(stops), String(warnings), '',
  ]);
}

/** What changed against the turnover before: a row for every shot that stands, was dropped or was left out. */
export function formatChanges({ shots, leftOut, dropped, revision, cuts }: TurnoverFile): string {
  const rows = [
    ...shots.map(({ shot, change, folder, packagedIn }) => [shot, change.kinds.join(', '), change.words.join(' '), folder === null ? 'no' : 'yes', String(packagedIn)]),
    ...leftOut.map(({ shot, kind, why, remedy }) => [shot, `left out: ${kind}`, `${why} ${remedy}`.trim(), 'no', '']),
    ...dropped.map((shot) => [shot, 'dropped', `no longer in the ${cuts.length === 0 ? 'shot list' : 'cut'}`, 'no', '']),
  ];
  return formatCsv([['shot', 'change', 'what', `in_revision_${revision}`, 'packaged_in_revision'], ...rows]);
}
