import type { ReadingProblem } from '../../core/material/finding.ts';
import { mediaKindOf } from '../../formats/media/media-kind.ts';
import type { FoundFile, Unreachable } from '../../ports.ts';
import { extensionOf } from './sort-files.ts';
import { fileProblem } from './unusable.ts';

/** Places nobody could look into. Behind a folder, or a name that ends like a clip's, a clip may hide that is then judged by nobody. */
export function unreachableProblems(unreachable: readonly Unreachable[]): readonly ReadingProblem[] {
  return unreachable.map(({ file, kind, reason, remedy }) => {
    const harmless = kind === 'link' || kind === 'no-file';
    const mayHideClips = mediaKindOf(file) !== undefined || extensionOf(file) === '';
    const severity = harmless ? 'note' : mayHideClips ? 'stop' : 'warn';
    return fileProblem(file, 'unreadable-file', severity, { found: reason, expected: 'a file or folder that can be read', remedy });
  });
}

/** One note for all files of kinds that are not read here. */
export function unusedNote(unused: readonly FoundFile[]): readonly ReadingProblem[] {
  const [first] = unused;
  if (first === undefined) return [];
  const counts = new Map<string, number>();
  for (const { file } of unused) counts.set(extensionOf(file), (counts.get(extensionOf(file)) ?? 0) + 1);
  const kinds = [...counts].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([kind, count]) => `${kind === '' ? 'without ending' : `.${kind}`} (${count})`);
  const found = `${unused.length === 1 ? 'a file' : `${unused.length} files`} that the check does not use: ${kinds.join(', ')}`;
  return [fileProblem(first.file, 'unreadable-file', 'note', { found, expected: 'clips, sequences, tables and sidecars', remedy: 'nothing, if no clip is among them' })];
}
