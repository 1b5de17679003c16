import type { CheckRules, ClipOf } from '../../core/checks/check-rules.ts';
import { countingOf } from '../../core/checks/counting.ts';
import type { LeadCase } from '../../core/checks/lead-case.ts';
import { layOutCases, ratesDiffer } from '../../core/checks/lead-case.ts';
import type { LeadPictures } from '../../core/checks/lead-pictures.ts';
import { joinsByLine } from '../../core/checks/picture.ts';
import { missingRoles } from '../../core/checks/presence.ts';
import { rowsOfClips } from '../../core/checks/rows-of-clips.ts';
import type { Clip, ClipId } from '../../core/material/clip.ts';
import { tooSmall } from '../../core/picture/measure/clip-frames.ts';
import type { MatchedDay } from '../../core/material/day.ts';
import type { MatchedSet } from '../../core/material/plate-set.ts';
import type { PictureClip, PictureOrder } from '../../ports.ts';

/** One lead with the passes whose pictures are to be measured. */
export interface PlannedPicture {
  readonly lead: ClipId;
  readonly swapped?: ClipId;
  readonly clean?: ClipId;
  readonly elements: readonly ClipId[];
  readonly order: PictureOrder;
  readonly standIns: Extract<LeadPictures, { kind: 'measured' }>['standIns'];
}

/** What to measure, by set, and the leads that give no pictures. */
export interface PicturePlan {
  readonly sets: readonly (readonly PlannedPicture[])[];
  readonly not: readonly LeadPictures[];
}

/** A clip that can be decoded here, or what stands in for it; else why not. */
export type Locate = (clip: ClipId) => { readonly place: Omit<PictureClip, 'everyFrame'>; readonly standIn?: string } | { readonly why: string };

/** Plans the pictures of every lead a set is judged by: circled takes and those in a shot, all where nobody chose. */
export function planPictures({ sets, grouped }: MatchedDay, rules: Pick<CheckRules, 'handles'>, locate: Locate): PicturePlan {
  const byId = new Map(grouped.clips.map((clip) => [clip.id, clip]));
  const clipOf = (id: ClipId): Clip | undefined => byId.get(id);
  const shotsFor = rowsOfClips(grouped.shots);
  const planned: (readonly PlannedPicture[])[] = [];
  const not: LeadPictures[] = [];
  for (const matched of sets.filter(({ set }) => !set.method.skipChecks.includes('picture'))) {
    const leads = matched.matches.flatMap(({ lead }) => clipOf(lead) ?? []);
    const shots = shotsFor(leads.length > 0 ? leads : matched.set.clips);
    const cases = layOutCases(matched, shots, clipOf, rules.handles);
    const { leads: counting } = countingOf(cases, shots, missingRoles(matched, clipOf));
    const orders: PlannedPicture[] = [];
    for (const one of cases.filter(({ lead }) => counting.has(lead.id))) {
      const plan = planLead(matched, one, clipOf, locate);
      if ('kind' in plan) not.push(plan);
      else orders.push(plan);
    }
    if (orders.length > 0) planned.push(orders);
  }
  return { sets: planned, not };
}

function planLead({ set }: MatchedSet, { lead, match, passes }: LeadCase, clipOf: ClipOf, locate: Locate): PlannedPicture | LeadPictures {
  const { method } = set;
  const standIns: { readonly clip: ClipId; readonly file: string }[] = [];
  const reasons: string[] = [];
  const placeOf = (clip: ClipId | undefined, everyFrame: boolean): PictureClip | undefined => {
    const raster = clip === undefined ? undefined : clipOf(clip)?.picture.raster?.value;
    const small = raster === undefined ? undefined : tooSmall(raster);
    const located = clip === undefined ? undefined : locate(clip);
    const found = located !== undefined && !('why' in located) && located.standIn === undefined && small !== undefined ? { why: small } : located;
    if (clip === undefined || found === undefined) return undefined;
    if ('why' in found) {
      reasons.push(found.why);
      return undefined;
    }
    if (found.standIn !== undefined) standIns.push({ clip, file: found.standIn });
    return { ...found.place, everyFrame };
  };
  const [leadAt, pass, clean] = [placeOf(lead.id, method.movingCamera), placeOf(match.swapped?.clip, method.movingCamera), placeOf(match.clean?.clip, false)];
  if (leadAt === undefined || (match.swapped !== undefined && pass === undefined)) return { kind: 'not-measured', lead: lead.id, why: [...new Set(reasons)].join('; ') };
  const elements = match.elements.flatMap(({ clip }) => { const at = placeOf(clip, false); return at === undefined ? [] : [{ clip, at }]; });
  const swapped = passes.find((one) => one.match === match.swapped)?.passes;
  const rate = swapped === undefined || ratesDiffer(swapped) || swapped.pass.rate === undefined ? undefined : lead.rate;
  return {
    lead: lead.id,
    ...(match.swapped === undefined ? {} : { swapped: match.swapped.clip }),
    ...(match.clean === undefined || clean === undefined ? {} : { clean: match.clean.clip }),
    elements: elements.map(({ clip }) => clip),
    standIns,
    order: {
      lead: leadAt,
      ...(pass === undefined ? {} : { pass }),
      ...(clean === undefined ? {} : { clean }),
      elements: elements.map(({ at }) => at),
      offset: match.swapped?.sync.offset ?? 0,
      offsetIsGuess: match.swapped?.sync.method === 'assumed',
      rate,
      range: rangeOf(swapped?.frames),
      movingCamera: method.movingCamera,
      wantsLine: joinsByLine(method) && match.swapped !== undefined,
    },
  };
}

function rangeOf(frames: { readonly start: number; readonly end: number } | undefined): PictureOrder['range'] {
  return { start: frames?.start ?? 0, end: frames?.end ?? Number.MAX_SAFE_INTEGER };
}
