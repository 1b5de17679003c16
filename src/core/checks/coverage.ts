import type { NeededRange, PassCoverage } from '../coverage/coverage.ts';
import type { Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import { lengthOf, overlap, pullRange } from '../timecode/range.ts';
import type { ShortPass } from './faults.ts';
import type { MatchedPasses } from './passes.ts';
import { roleName } from './passes.ts';
import { raise } from './raise.ts';

/** Whether a pass must lie under the whole range: everything but references, and clean plates of a locked-off camera. */
export function mustCover({ role, method }: Pick<MatchedPasses, 'role' | 'method'>): boolean {
  return role === 'lead' || role === 'swapped' || role === 'element' || (role === 'clean' && method.movingCamera);
}

/** The lead itself must hold its cut range and handles. */
export function checkLeadCovers(lead: Clip, coverage: PassCoverage): readonly Finding[] {
  return checkCovers(lead, lead, coverage);
}

/** A pass must hold what is needed of it: the range for one that is laid under the lead, a number of frames for a locked-off clean plate. */
export function checkPassCovers(passes: MatchedPasses, coverage: readonly PassCoverage[], minCleanFrames: number): readonly Finding[] {
  const { lead, pass, role, method } = passes;
  if (role === 'clean' && !method.movingCamera) return checkCleanFrames(passes, minCleanFrames);
  if (!mustCover(passes)) return [];
  const each = role === 'clean' ? checkCleanCovers : (one: PassCoverage) => checkCovers(pass, lead, one);
  return coverage.flatMap((one) => each(one, passes));
}

function checkCovers(clip: Clip, lead: Clip, coverage: PassCoverage): readonly Finding[] {
  const { needed } = coverage;
  if (!sharesCut(coverage)) {
    const all = lengthOf(needed.cut);
    return [raiseShort({ code: 'no-overlap', severity: 'stop', clip, lead, coverage, cutFrames: all, handleFrames: 0 })];
  }
  return [
    ...checkEnd('short-head', clip, lead, coverage, coverage.missingHead, coverage.missingHeadHandle),
    ...checkEnd('short-tail', clip, lead, coverage, coverage.missingTail, coverage.missingTailHandle),
  ];
}

/** Whether the pass has any frame of the cut range. */
export function sharesCut({ available, needed }: PassCoverage): boolean {
  return lengthOf(needed.cut) === 0 || overlap(available, needed.cut) !== undefined;
}

function checkEnd(
  code: 'short-head' | 'short-tail',
  clip: Clip,
  lead: Clip,
  coverage: PassCoverage,
  cutFrames: number,
  handleFrames: number,
): readonly Finding[] {
  if (cutFrames === 0 && handleFrames === 0) return [];
  return [raiseShort({ code, severity: severityOf(coverage.needed, cutFrames), clip, lead, coverage, cutFrames, handleFrames })];
}

/** Frames of the cut that are missing will fail; handles, and frames of a take of which no cut is known, may not be wanted. */
function severityOf({ basis }: NeededRange, cutFrames: number): Severity {
  return cutFrames > 0 && basis !== 'lead-take' ? 'stop' : 'warn';
}

function raiseShort(short: Omit<ShortPass, 'subject' | 'measured' | 'allowed' | 'evidence'>): Finding {
  const { clip, lead, coverage, cutFrames, handleFrames } = short;
  return raise({
    ...short,
    subject: [clip, lead],
    measured: { value: cutFrames > 0 ? cutFrames : handleFrames, unit: 'frames' },
    allowed: { value: 0, unit: 'frames' },
    evidence: coverageEvidence(coverage),
  });
}

/** All ranges as people read them: both ends in, counted from the first frame of the lead. */
function coverageEvidence({ needed, available, role }: PassCoverage): readonly string[] {
  const whole = pullRange(needed.cut, needed.handles);
  return [
    `${needed.from}: cut range ${needed.cut.start} to ${needed.cut.end - 1}, with handles ${whole.start} to ${whole.end - 1} (frames of the lead from 0, both ends in)`,
    `the ${roleName(role)} holds ${available.start} to ${available.end - 1}`,
  ];
}

/** Under a moving camera a clean plate that stops early leaves nothing to put behind. */
function checkCleanCovers(coverage: PassCoverage, passes: MatchedPasses): readonly Finding[] {
  const cutFrames = coverage.missingHead + coverage.missingTail;
  const handleFrames = coverage.missingHeadHandle + coverage.missingTailHandle;
  if (cutFrames === 0 && handleFrames === 0) return [];
  return [
    raise({
      code: 'clean-plate-short',
      severity: severityOf(coverage.needed, cutFrames),
      subject: [passes.lead, passes.pass],
      clip: passes.pass,
      passes,
      needed: coverage.needed,
      measured: { value: cutFrames > 0 ? cutFrames : handleFrames, unit: 'frames' },
      allowed: { value: 0, unit: 'frames' },
      evidence: coverageEvidence(coverage),
    }),
  ];
}

function checkCleanFrames(passes: MatchedPasses, minCleanFrames: number): readonly Finding[] {
  const { frames } = passes.pass;
  if (frames === undefined || frames >= minCleanFrames) return [];
  return [
    raise({
      code: 'clean-plate-short',
      severity: 'stop',
      subject: [passes.pass],
      clip: passes.pass,
      passes,
      measured: { value: frames, unit: 'frames' },
      allowed: { value: minCleanFrames, unit: 'frames' },
      evidence: [`${passes.pass.file}: ${frames} frames counted`],
    }),
  ];
}

/** Nobody says how the pass lies under the lead; how bad that is, the method says. */
export function checkSync(passes: MatchedPasses): readonly Finding[] {
  if (passes.sync.method !== 'assumed' || !mustCover(passes)) return [];
  return [
    raise({
      code: 'sync-assumed',
      severity: passes.method.syncAssumed,
      subject: [passes.lead, passes.pass],
      passes,
      measured: { value: 'head to head', unit: '' },
      allowed: { value: 'a stated sync', unit: '' },
      evidence: [passes.sync.words],
    }),
  ];
}

/** Two kinds of evidence say different offsets. An editor who laid the passes over each other may have slipped one on purpose. */
export function checkSyncAgrees(passes: MatchedPasses): readonly Finding[] {
  const { contradictedBy = [], method, offset, words } = passes.sync;
  const [surest] = contradictedBy.toSorted((a, b) => b.confidence - a.confidence);
  if (surest === undefined || !mustCover(passes)) return [];
  return [
    raise({
      code: 'sync-contradicted',
      severity: method === 'cut' ? 'note' : 'warn',
      subject: [passes.lead, passes.pass],
      passes,
      measured: { value: surest.offset, unit: 'frames' },
      allowed: { value: offset, unit: 'frames' },
      evidence: [words, ...contradictedBy.map((other) => `${other.method.replaceAll('-', ' ')}: ${other.words}`)],
    }),
  ];
}

/**
 * Numbers that a sequence lacks. A `stop` where they fall into what a shot needs, a `warn` in its handles, else a `note`.
 * `coverageOf` gives the clip's own: as a lead, and under each lead it is matched to.
 */
export function checkGaps(clip: Clip, coverageOf: () => readonly PassCoverage[]): readonly Finding[] {
  const missing = clip.sequence?.missing ?? [];
  if (missing.length === 0) return [];
  const coverage = coverageOf();
  const inCut = coverage.some(({ gaps, needed }) => gaps.some((gap) => overlap(gap, needed.cut) !== undefined));
  const inHandles = coverage.some(({ gaps }) => gaps.length > 0);
  const count = missing.reduce((sum, hole) => sum + lengthOf(hole), 0);
  return [
    raise({
      code: 'frame-gap',
      severity: inCut ? 'stop' : inHandles ? 'warn' : 'note',
      subject: [clip],
      clip,
      numbers: missing.map(holeText).join(', '),
      measured: { value: count, unit: 'frames' },
      allowed: { value: 0, unit: 'frames' },
      evidence: [`${clip.file}: numbers ${missing.map(holeText).join(', ')} are not there`],
    }),
  ];
}

/** "1004" or "1004 to 1009", both in. */
function holeText({ start, end }: { readonly start: number; readonly end: number }): string {
  return end - start === 1 ? `${start}` : `${start} to ${end - 1}`;
}
