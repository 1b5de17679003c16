import type { ReadingProblem } from '../../core/material/finding.ts';
import { HISTORY_FOLDER } from '../../formats/mhl/manifest.ts';
import { problemLog, shown } from '../../formats/mhl/problem-log.ts';
import type { ReadHistory } from './read-history.ts';
import type { Scope } from './scopes.ts';
import { within } from './scopes.ts';

/** Manifests of nested histories that a scope's generations refer to must be there and be what they were. They may be older than the latest. */
export function checkReferences(scope: Scope, read: ReadonlyMap<string, ReadHistory>): readonly ReadingProblem[] {
  const generations = read.get(scope.path)?.generations ?? [];
  return generations.flatMap(({ file, manifest }) => {
    const log = problemLog(file);
    for (const { path, c4 } of manifest.references) {
      const target = targetOf(within(scope.path, path));
      const found = target === undefined ? undefined : read.get(target.scope)?.c4.get(target.name);
      if (found === undefined) log.invalid('stop', 'references', `${shown(path)} is not there`, 'the manifest of the nested history');
      else if (found !== c4) log.invalid('stop', 'references', `${shown(path)}: ${found}`, c4);
    }
    return log.problems;
  });
}

/** The scope and the manifest's name in "A014/ascmhl/0001_….mhl". */
export function targetOf(path: string): { readonly scope: string; readonly name: string } | undefined {
  const middle = `/${HISTORY_FOLDER}/`;
  const at = path.lastIndexOf(middle);
  const name = path.slice(at + middle.length);
  return at <= 0 || name.includes('/') ? undefined : { scope: path.slice(0, at), name };
}
