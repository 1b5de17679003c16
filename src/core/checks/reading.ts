import type { Clip, Disagreement } from '../material/clip.ts';
import type { Finding, FindingCode, ReadingProblem, Severity } from '../material/finding.ts';
import type { Field } from '../material/statement.ts';
import { wordingOfProblem, wordingOfShotRow } from './consequence.ts';
import { sourceText } from './evidence.ts';
import { checkPossible } from './possible.ts';
import { raise } from './raise.ts';

/** Codes that the checks work out from the clip's facts: a reader's word on them would say the same fault twice. */
const WORKED_OUT: readonly FindingCode[] = ['no-timecode', 'sources-disagree', 'unknown-slate', 'role-conflict', 'length-disagrees'];

/** What is wrong with the reading of one clip: what the reader could not read, what no camera can have, no timecode, sources that contradict each other. */
export function checkReading(clip: Clip): readonly Finding[] {
  const unread = checkUnread(clip);
  if (!clip.usable) return unread;
  return [...unread, ...checkPossible(clip), ...checkTimecode(clip), ...clip.disagreements.flatMap((disagreement) => checkSources(clip, disagreement))];
}

function checkUnread(clip: Clip): readonly Finding[] {
  const gapsKnown = (clip.sequence?.missing ?? []).length > 0;
  const told = clip.problems.filter(({ code }) => !WORKED_OUT.includes(code) && !(gapsKnown && code === 'frame-gap'));
  const problems = clip.usable || told.some(({ code }) => UNUSABLE.includes(code)) ? told : [...told, unusableWithoutReason(clip)];
  return problems.map((problem) => unread(problem, clip));
}

function unread(problem: ReadingProblem, clip: Clip): Finding {
  return {
    code: problem.code,
    severity: problem.severity,
    subject: [clip.id],
    measured: { value: problem.found, unit: '' },
    allowed: { value: problem.expected, unit: '' },
    ...wordingOfProblem({ problem, clip }),
    evidence: [sourceText(problem)],
  };
}

const UNUSABLE: readonly FindingCode[] = ['duplicate-clip', 'unreadable-clip', 'truncated-clip', 'still-growing', 'unreadable-file'];

/** A clip that cannot be judged never goes without a finding, whatever its reader left unsaid. */
function unusableWithoutReason({ file, complete, completeness }: Clip): ReadingProblem {
  const code = complete === false ? 'truncated-clip' : 'unreadable-clip';
  return { code, severity: 'stop', file, place: '', found: completeness, expected: 'a whole clip', remedy: '' };
}

/** A row of the shot list that could not be read for this lead. */
export function checkShotRow(problem: ReadingProblem, lead: Clip): Finding {
  return { ...unread(problem, lead), ...wordingOfShotRow({ problem, clip: lead }) };
}

/** Frames of the passes that are joined are named by timecode; a sequence names them by number as well. */
function checkTimecode(clip: Clip): readonly Finding[] {
  if (clip.start !== undefined) return [];
  const named = clip.kind === 'sequence' || clip.role === 'clean' || clip.role === 'reference';
  return [
    raise({
      code: 'no-timecode',
      severity: named ? 'note' : 'warn',
      subject: [clip],
      clip,
      measured: { value: 'none', unit: '' },
      allowed: { value: 'timecode of the first frame', unit: '' },
      evidence: [`${clip.file}: no timecode in the file, its sidecar or a report`],
    }),
  ];
}

/** A clip of which nobody says to what set-up it belongs. */
export function checkUnknownSlate(clip: Clip): Finding {
  return raise({
    code: 'unknown-slate',
    severity: 'warn',
    subject: [clip],
    clip,
    measured: { value: 'none', unit: '' },
    allowed: { value: 'a slate', unit: '' },
    evidence: [`${clip.file}: no slate in the file, its name, its sidecar, a report or a note`],
  });
}

/** Fields that people write in their own words: two wordings are no reason to look. */
const FREELY_WORDED: readonly Field[] = ['file', 'roll', 'clip', 'reel', 'lens', 'tint', 'notes', 'date', 'codec', 'cameraModel'];
/** `length-disagrees` speaks of these, and it knows that a timecode out may be the last frame or the first after it. */
const OF_LENGTH: readonly Field[] = ['frames', 'tcOut'];

function checkSources(clip: Clip, disagreement: Disagreement): readonly Finding[] {
  const { field, chosen, other } = disagreement;
  if (OF_LENGTH.includes(field)) return [];
  const severity: Severity = FREELY_WORDED.includes(field) ? 'note' : 'warn';
  return [
    raise({
      code: 'sources-disagree',
      severity,
      subject: [clip],
      clip,
      disagreement,
      measured: { value: other.raw, unit: '' },
      allowed: { value: chosen.raw, unit: '' },
      evidence: [`${field} "${chosen.raw}": ${sourceText(chosen.source)}`, `${field} "${other.raw}": ${sourceText(other.source)}`],
    }),
  ];
}
