import type { Clip, Role, RoleEvidence } from '../material/clip.ts';
import { sameDate } from '../material/dates.ts';
import { decideRole } from '../material/role-evidence.ts';
import { setUpKey } from '../slate/slate.ts';
import { groupBy } from './sorted.ts';

/**
 * What is said of one clip and holds for its neighbours, who say nothing themselves: a take has the same role on every camera that
 * shot it, and a set-up that is "for 27B" is so in all its takes. Each clip keeps the words of the one that said so.
 */
export function shareWhatIsSaid(clips: readonly Clip[]): readonly Clip[] {
  return shareWithinSetUps(shareAcrossCameras(clips));
}

/** Said of the same take on another camera: nearly as good as said of the clip itself. */
const OTHER_CAMERA = 0.9;
/** Said of another take of the same set-up: better than shooting order, weaker than any name. */
const OTHER_TAKE = 0.55;

function shareAcrossCameras(clips: readonly Clip[]): readonly Clip[] {
  if (clips.every(({ roleEvidence }) => roleEvidence.length > 0)) return clips;
  const byTake = groupBy(clips.filter(({ slate }) => slate?.take !== undefined), takeKey);
  return clips.map((clip) => {
    if (clip.roleEvidence.length > 0 || clip.slate?.take === undefined) return clip;
    const others = (byTake.get(takeKey(clip)) ?? []).filter((other) => other.camera !== clip.camera && isSameDay(clip, other));
    const teller = onlyRole(others);
    const [said] = teller?.roleEvidence ?? [];
    if (teller === undefined || said === undefined) return clip;
    return withEvidence(clip, {
      role: teller.role,
      kind: said.kind === 'correction' ? 'log' : said.kind,
      weight: teller.roleConfidence * OTHER_CAMERA,
      words: `the same take on camera ${teller.camera ?? 'unknown'}: ${said.words}`,
    });
  });
}

function shareWithinSetUps(clips: readonly Clip[]): readonly Clip[] {
  if (clips.every(({ forSlate }) => forSlate === undefined)) return clips;
  const bySetUp = groupBy(clips.filter(({ slate }) => slate !== undefined), setUpAndCamera);
  const tellers = new Map([...bySetUp].map(([key, group]) => [key, group.filter(({ forSlate }) => forSlate !== undefined)]));
  return clips.map((clip) => {
    if (clip.slate === undefined || clip.forSlate !== undefined || clip.role === 'lead') return clip;
    const said = tellers.get(setUpAndCamera(clip)) ?? [];
    const [first] = said;
    if (first?.forSlate === undefined || new Set(said.map(({ forSlate }) => forSlate && setUpKey(forSlate))).size > 1) return clip;
    const { take: _take, ...forSlate } = first.forSlate;
    const teller = onlyRole(said);
    const [why] = teller?.roleEvidence ?? [];
    if (clip.roleEvidence.length > 0 || teller === undefined || why === undefined) return { ...clip, forSlate };
    const words = `another take of ${setUpKey(clip.slate)} is for ${setUpKey(forSlate)}: ${why.words}`;
    return { ...withEvidence(clip, { role: teller.role, kind: 'note', weight: OTHER_TAKE, words }), forSlate };
  });
}

/** The first clip that has a role, when all that have one have the same. */
function onlyRole(clips: readonly Clip[]): Clip | undefined {
  const told = clips.filter(({ role }) => role !== 'unknown');
  const roles = new Set<Role>(told.map(({ role }) => role));
  return roles.size === 1 ? told[0] : undefined;
}

function withEvidence(clip: Clip, evidence: RoleEvidence): Clip {
  return { ...clip, roleEvidence: [evidence], ...decideRole([evidence]) };
}

function takeKey({ slate }: Clip): string {
  return slate === undefined ? '' : `${setUpKey(slate)}|${slate.take}|${slate.suffix}`;
}

function setUpAndCamera({ slate, camera }: Clip): string {
  return slate === undefined ? '' : `${setUpKey(slate)}|${camera ?? ''}`;
}

function isSameDay(a: Clip, b: Clip): boolean {
  return a.date === undefined || b.date === undefined || sameDate(a.date, b.date);
}
