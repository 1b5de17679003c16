import type { ReadingProblem } from '../../core/material/finding.ts';
import { LEAVE_IT, shown } from './problem-log.ts';
import { collidingPaths, pathFault } from './safe-path.ts';

/** One entry of a folder, as far as its safety goes. */
export interface OddEntry {
  readonly file: string;
  readonly kind: 'file' | 'folder' | 'link' | 'unnamed' | 'other' | 'denied';
}

/** Entries that must not be opened or cannot be: links, pipes, names that lead out elsewhere or cannot be written down, what the system refuses. */
export function checkEntries(entries: readonly OddEntry[], at: (file: string) => string): readonly ReadingProblem[] {
  return entries.flatMap(({ file, kind }) => {
    const unsafe = (found: string, expected: string): readonly ReadingProblem[] => [{ code: 'path-unsafe', severity: 'stop', file: at(file), place: '', found, expected, remedy: LEAVE_IT }];
    if (kind === 'link') return unsafe('a link, which may lead anywhere; it was not followed', 'the file itself');
    if (kind === 'other') return unsafe('a pipe, socket or device', 'an ordinary file');
    if (kind === 'unnamed') return unsafe('a name that is not valid UTF-8', 'a name that can be written down');
    if (kind === 'denied') {
      return [{ code: 'unreadable-file', severity: 'stop', file: at(file), place: '', found: 'it cannot be read', expected: 'a file or folder that can be read', remedy: 'give the user who runs gemel the right to read it, then run again' }];
    }
    const fault = pathFault(file);
    return fault === undefined ? [] : unsafe(`${shown(file)}: ${fault}`, 'a name that every system reads alike');
  });
}

/** Paths, and folders on the way to them, that another system would take for one: upper and lower case, composed and decomposed letters. */
export function checkCollisions(paths: Iterable<string>, at: (file: string) => string): readonly ReadingProblem[] {
  const all = new Set<string>();
  for (const path of paths) {
    for (let end = path.length; end > 0 && !all.has(path.slice(0, end)); end = path.lastIndexOf('/', end - 1)) all.add(path.slice(0, end));
  }
  return collidingPaths([...all]).map(([first = '', ...others]) => ({
    code: 'path-unsafe', severity: 'stop', file: at(first), place: '', found: `beside ${others.map(shown).join(', ')}: only letter case or the form of an accent parts them`,
    expected: 'names that stay apart on every system', remedy: 'unpack nothing where upper and lower case are one: the files would overwrite each other; ask for other names',
  }));
}
