import type { ComparingContext } from './agreement.ts';
import { agrees } from './agreement.ts';
import type { Clip, Disagreement } from './clip.ts';
import type { GroupRules } from './group-rules.ts';
import { FIELDS } from './heading.ts';
import type { Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, isSaidTogether } from './trust.ts';

/** What of a clip its sources are compared by. */
type RatedClip = Pick<Clip, 'file' | 'rate' | 'sensorRate' | 'timecodeFormat'>;

/**
 * Every statement that contradicts the chosen one of its field; a source that says the same wrong thing twice is told once.
 * `counted` is the number of pictures in the file.
 */
export function findDisagreements(clip: RatedClip, said: SaidByField, counted: number | undefined, tolerances: GroupRules['tolerances']): readonly Disagreement[] {
  const context: ComparingContext = {
    ...tolerances,
    shutterRate: clip.sensorRate ?? clip.rate,
    timecodeFormat: clip.timecodeFormat,
    serialBeside: (statement) => serialBeside(statement, said),
  };
  const found: Disagreement[] = [];
  const compare = (chosen: Statement, others: readonly Statement[]): void => {
    for (const other of others) {
      if (other === chosen || agrees(chosen, other, context)) continue;
      const isTold = found.some((told) => told.chosen === chosen && told.other.raw === other.raw && told.other.source.file === other.source.file);
      if (!isTold) found.push({ field: chosen.field, chosen, other });
    }
  };
  const [frames] = allOf(said, 'frames');
  if (frames !== undefined) compare(countedFrames(clip.file, counted, frames), allOf(said, 'frames'));
  for (const [chosen, ...others] of said.several.values()) if (chosen !== undefined && chosen.field !== 'frames') compare(chosen, others);
  return found.length < 2 ? found : inOrderOfFields(found);
}

function inOrderOfFields(found: readonly Disagreement[]): readonly Disagreement[] {
  return found.toSorted((a, b) => FIELDS.indexOf(a.field) - FIELDS.indexOf(b.field));
}

/** Pictures counted in the file beat every stated number of them. */
function countedFrames(file: string, counted: number | undefined, stated: Statement): Statement {
  if (counted === undefined) return stated;
  return { field: 'frames', value: counted, raw: String(counted), source: { kind: 'embedded', file, place: 'pictures counted' } };
}

/** Serial of the lens stated by the same row or file as a statement. */
function serialBeside({ source }: Statement, said: SaidByField): string | undefined {
  return allOf(said, 'lensSerial').find((serial) => isSaidTogether(serial.source, source))?.value;
}
