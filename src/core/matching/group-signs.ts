import type { Clip, ClipId } from '../material/clip.ts';
import type { RoleReader } from '../material/role-words.ts';
import type { MoveMark, ShotRow } from '../material/shot-list.ts';
import type { SlateGrammar } from '../slate/grammar.ts';
import { isSlate, parseSlate } from '../slate/parse-slate.ts';
import { setUpKey } from '../slate/slate.ts';

/** Where signs may stand besides the clips themselves. */
export interface SignSources {
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  readonly confirmedLeads: ReadonlySet<ClipId>;
  readonly grammar: SlateGrammar;
  readonly reader: RoleReader;
}

/** The set-up a clip belongs to: the one it is for, else its own. Undefined without any slate. */
export function homeKey({ slate, forSlate }: Pick<Clip, 'slate' | 'forSlate'>): string | undefined {
  const home = forSlate ?? slate;
  return home === undefined ? undefined : setUpKey(home);
}

/** The set-up a row of a shot list or of move notes names; undefined when its slate cannot be read. */
export function rowKey({ slate }: Pick<ShotRow, 'slate'>, grammar: SlateGrammar): string | undefined {
  const read = parseSlate(slate, grammar);
  return isSlate(read) ? setUpKey(read) : undefined;
}

/**
 * Set-ups that somebody treats as a twin shot: a swapped pass, clean plate or element among its clips, a clip called its lead, one
 * slated for it, a method, a shot, marks of a move, or a confirmed match. All others are ordinary set-ups. A reference alone is no
 * sign (charts are shot everywhere), nor is "lead" said in passing ("lead actor late"); a note that states it of the take is one ("hero pass").
 */
export function signedSetUps(clips: readonly Clip[], { shots, marks, confirmedLeads, grammar, reader }: SignSources): ReadonlySet<string> {
  const signed = new Set<string>();
  for (const clip of clips) {
    const home = homeKey(clip);
    if (home !== undefined && (hasSign(clip, reader) || confirmedLeads.has(clip.id))) signed.add(home);
  }
  for (const row of [...shots, ...marks]) {
    const key = rowKey(row, grammar);
    if (key !== undefined) signed.add(key);
  }
  return signed;
}

function hasSign({ forSlate, method, roleEvidence, notes }: Clip, reader: RoleReader): boolean {
  if (forSlate !== undefined || method !== undefined) return true;
  if (roleEvidence.some(({ role, kind }) => (role === 'lead' ? kind !== 'note' : role === 'swapped' || role === 'clean' || role === 'element'))) return true;
  return notes.some((note) => reader.stated(note).some(({ role }) => role === 'lead'));
}
