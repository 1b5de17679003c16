import type { Clip, ClipId } from '../../material/clip.ts';
import type { CutShot } from '../../material/cut.ts';
import type { ShotRow } from '../../material/shot-list.ts';
import { setUpKey } from '../../slate/slate.ts';

/**
 * The rows that checks and sheets go by: one a shot of the cut, with what the shot list says of it besides, then the rows of the
 * shot list that the cut does not have.
 */
export function rowsWithCut(shots: readonly CutShot[], list: readonly ShotRow[], clipOf: (id: ClipId) => Clip | undefined): readonly ShotRow[] {
  const inCut = new Set(shots.map(({ shot }) => foldCode(shot)));
  const listed = new Map(list.toReversed().map((row) => [foldCode(row.shot), row]));
  const cutRows = shots.flatMap((shot) => {
    const lead = clipOf(shot.lead);
    const layer = shot.layers.find(({ clip }) => clip === shot.lead);
    return lead?.slate === undefined || layer === undefined ? [] : [cutRow(shot, layer, lead, listed.get(foldCode(shot.shot)))];
  });
  return [...cutRows, ...list.filter(({ shot }) => !inCut.has(foldCode(shot)))];
}

function cutRow(shot: CutShot, layer: CutShot['layers'][number], lead: Clip, listed: ShotRow | undefined): ShotRow {
  const { slate, camera } = lead;
  const { method, vendor, description, notes, handles = {}, from } = listed ?? {};
  return {
    shot: shot.shot,
    slate: slate === undefined ? '' : setUpKey(slate),
    ...(slate?.take === undefined ? {} : { take: slate.take }),
    ...(camera === undefined ? {} : { camera }),
    ...(method === undefined ? {} : { method }),
    ...(vendor === undefined ? {} : { vendor }),
    ...(description === undefined ? {} : { description }),
    ...(notes === undefined ? {} : { notes }),
    handles,
    from: from === undefined ? shot.from : `${shot.from}, ${from}`,
    cutFrames: layer.source,
    inCut: shot,
  };
}

/** Codes are compared without regard to case and to what parts them. */
export function foldCode(shot: string): string {
  return shot.toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, '');
}
