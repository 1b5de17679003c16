import type { ReadClip } from '../../core/material/clip.ts';
import type { ReadDay } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';

/** More names than these help nobody in a sentence. */
const NAMED = 40;
/** Up to so many files of one folder with the same fault are told one by one. */
const ONE_BY_ONE = 6;

/**
 * A day with what its cards' hash lists tell, as problems of the day; and of each clip whose files are concerned, so that the sets
 * it belongs to are judged by it. `file` of a problem is relative to the media root, as clips are.
 */
export function withHashProblems(day: ReadDay, problems: readonly ReadingProblem[]): ReadDay {
  if (problems.length === 0) return day;
  const byClip = new Map<string, ReadingProblem[]>();
  const clipOf = clipFinder(day.clips);
  for (const problem of problems) {
    const clip = clipOf(problem.file);
    if (clip === undefined || problem.severity === 'note') continue;
    const name = problem.file.slice(problem.file.lastIndexOf('/') + 1);
    const told = clip === problem.file || problem.place !== '' ? problem : { ...problem, place: name, found: `${name} ${problem.found}` };
    byClip.set(clip, [...(byClip.get(clip) ?? []), told]);
  }
  return {
    ...day,
    clips: day.clips.map((clip) => ({ ...clip, problems: [...clip.problems, ...summed(byClip.get(clip.file) ?? [], () => clip.file)] })),
    problems: [...day.problems, ...summed(problems, ({ file }) => file.slice(0, Math.max(0, file.lastIndexOf('/'))))],
  };
}

/** The clip a file belongs to: itself, or the sequence of which it is one picture. */
function clipFinder(clips: readonly ReadClip[]): (file: string) => string | undefined {
  const names = new Set(clips.map(({ file }) => file));
  const sequences = new Map(clips.filter(({ kind }) => kind === 'sequence').map(({ file }) => [file.replace(/#+(?=[^#/]*$)/, '#'), file]));
  return (file) => (names.has(file) ? file : sequences.get(file.replace(/\d+(?=\D*$)/, '#')));
}

/** Many files of one place with one fault become one problem that counts and names them. */
function summed(problems: readonly ReadingProblem[], placeOf: (problem: ReadingProblem) => string): readonly ReadingProblem[] {
  const groups = new Map<string, ReadingProblem[]>();
  for (const problem of problems) {
    const key = [placeOf(problem), problem.code, problem.severity, problem.remedy].join('\u0000');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [problem]);
    else group.push(problem);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined || group.length <= ONE_BY_ONE) return group;
    const names = group.slice(0, NAMED).map(({ file }) => file.slice(file.lastIndexOf('/') + 1));
    const more = group.length > NAMED ? ` and ${group.length - NAMED} more` : '';
    return [{ ...first, file: placeOf(first) === '' ? first.file : placeOf(first), found: `${group.length} files: ${names.join(', ')}${more}`, expected: EXPECTED[first.code] ?? 'what the hash list says' }];
  });
}

const EXPECTED: Readonly<Partial<Record<ReadingProblem['code'], string>>> = {
  'file-missing': 'the files on record',
  'file-altered': 'files as they are on record',
  'file-extra': 'only files that are on record',
};
