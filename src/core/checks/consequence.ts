import type { Chosen, Clip } from '../material/clip.ts';
import type { FindingCode } from '../material/finding.ts';
import type { Stop } from '../material/statement.ts';
import type { FrameRange } from '../timecode/range.ts';
import { lastFrame, overlap, pullRange } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';
import { rateAsNumber, rateName } from '../timecode/rate.ts';
import { asWritten, stopAsWritten } from './as-written.ts';
import { figure, metres } from './evidence.ts';
import type { Belonging, Difference, Fault, MissingPass, ShortPass, UnreadFault } from './faults.ts';
import { clipName, listed, roleName } from './passes.ts';
import { wordingOfPicture } from './picture-words.ts';
import { withoutImpossible } from './impossible-facts.ts';
import type { PlateSet } from '../material/plate-set.ts';
import type { DifferenceCode } from './relevance.ts';

/**
 * The sentences of findings, and the only place they are written: what the compositor will see or the crew loses, and what
 * to do next. What a difference costs in px or stops comes with the fault.
 */
export interface Wording {
  readonly consequence: string;
  readonly remedy: string;
}

/** What a fault leads to and what to do about it. */
export function wordingOf(fault: Fault): Wording {
  switch (fault.code) {
    case 'no-timecode':
      return {
        consequence: `${clipName(fault.clip)} has no timecode: a pull list and an edit can only name its frames by number, and it cannot be synced by timecode.`,
        remedy: `Write its start timecode into the camera report (column tc_in), or give its sync offset in the corrections file.`,
      };
    case 'unknown-slate':
      return {
        consequence: `Nobody says which set-up ${clipName(fault.clip)} belongs to, so it is matched to nothing.`,
        remedy: `Write its slate and take into the log, or fix its slate in the corrections file.`,
      };
    case 'sources-disagree': {
      const { chosen, other } = fault.disagreement;
      return {
        consequence: `Two sources of ${clipName(fault.clip)} contradict each other on ${spaced(chosen.field)}: gemel goes by "${chosen.raw}", and if "${other.raw}" is true the comparison with the other passes is wrong.`,
        remedy: `Find out which is true and put the other right: "${chosen.raw}" or "${other.raw}".`,
      };
    }
    case 'duplicate-clip':
      return {
        consequence: `${fault.first.file} and ${fault.second.file} are one recording twice: it may be matched or turned over in place of a second take.`,
        remedy: `Keep one of the two in the folders that are read, and run the check again.`,
      };
    case 'missing-lead-pass':
      return missingLead(fault);
    case 'missing-swapped-pass':
    case 'missing-clean-plate':
    case 'missing-reference':
      return missingPass(fault);
    case 'unmatched-pass':
      if (fault.clip === undefined) {
        return {
          consequence: `Nothing of this day says which clip is a pass of what, so no set is judged.`,
          remedy: `Give the log a pass column (lead, swapped, clean, reference, element), or name the passes on the slates, in notes or in file names.`,
        };
      }
      return {
        consequence: `${clipName(fault.clip)} (${roleName(fault.clip.role)}) stands beside no lead take: ${fault.why}.`,
        remedy: fault.needed
          ? `Say in the log what it is and which slate and take it is for, or confirm its match in the corrections file.`
          : `Nothing to shoot: leave it out of the turnover, or confirm its match in the corrections file if it is wanted.`,
      };
    case 'ambiguous-match':
      return {
        consequence: `${clipName(fault.chosen)} and ${clipName(fault.runnerUp)} would do equally well as the ${roleName(fault.role)} of ${clipName(fault.lead)}: the wrong take may travel.`,
        remedy: `Circle the good one in the log, or confirm ${clipName(fault.chosen)} or ${clipName(fault.runnerUp)} in the corrections file.`,
      };
    case 'proposed-match':
      return {
        consequence: `${clipName(fault.clip)} may be the ${roleName(fault.proposal.role)} of ${clipName(fault.lead)} under a wrong slate (${fault.proposal.why}); it is not taken until somebody confirms it.`,
        remedy: `Look at both: if they belong together, confirm lead ${clipName(fault.lead)} with ${clipName(fault.clip)} in the corrections file; if not, forbid it there.`,
      };
    case 'role-conflict':
      return {
        consequence:
          `${clipName(fault.clip)} is called ${listed(fault.roles.map(roleName))} in different places; ` +
          (fault.clip.role === 'unknown' ? 'it is taken for neither.' : `if it is not the ${roleName(fault.clip.role)}, the passes are joined the wrong way round.`),
        remedy: `Ask the script supervisor, then fix the role of ${clipName(fault.clip)} in the corrections file.`,
      };
    case 'role-guessed':
      return {
        consequence: `Only a guess says what ${listed(fault.clips.map(guessedRole))}: if it is wrong, the passes are joined the wrong way round.`,
        remedy: `Write into the log (column pass) what each of them is, or fix the roles in the corrections file.`,
      };
    case 'short-head':
    case 'short-tail':
    case 'no-overlap':
      return shortPass(fault);
    case 'frame-gap':
      return {
        consequence: `${clipName(fault.clip)} lacks the pictures numbered ${fault.numbers}: ${GAP_SEEN[fault.severity]}.`,
        remedy: `Copy or render these numbers again from the camera original, then run the check again.`,
      };
    case 'clean-plate-short':
      return shortCleanPlate(fault);
    case 'sync-assumed':
      return {
        consequence: `Nothing says which frame of ${clipName(fault.passes.pass)} lies under which frame of ${clipName(fault.passes.lead)}: they are laid head to head, and action both share may not meet.`,
        remedy: `Find one moment both share (a clap, a cue, a mark of the move) and give the offset in frames in the corrections file.`,
      };
    case 'sync-contradicted':
      return {
        consequence: `What tells how ${clipName(fault.passes.pass)} lies under ${clipName(fault.passes.lead)} contradicts itself: gemel goes by ${quantity(fault.allowed)}, something else says ${quantity(fault.measured)}, and if that is true the passes do not meet.`,
        remedy: `Look at one moment both share (a clap, a cue) and give the offset in frames in the corrections file.`,
      };
    case 'length-disagrees':
      return {
        consequence: `${clipName(fault.clip)} holds ${quantity(fault.measured)} where its papers say ${quantity(fault.allowed)}: frames were lost in copying, or the papers belong to another clip.`,
        remedy: `Compare ${clipName(fault.clip)} with the card before the card is used again; correct the report if the file is whole.`,
      };
    case 'timecode-overlap':
      return {
        consequence: `${clipName(fault.earlier)} and ${clipName(fault.later)} of one camera carry the same timecode for ${quantity(fault.measured)}: an edit list that names it may bring back the wrong clip.${fault.highSpeed ? ' The earlier one ran fast, so its timecode ran ahead of the clock.' : ''}`,
        remedy: fault.highSpeed
          ? `Nothing to shoot: have pulls of these clips checked by file name, not by timecode alone.`
          : `Check the clock of the camera and jam it; have pulls of these clips checked by file name. If the timecode was repeated on purpose (playback, motion control), say so in the notes or name the method.`,
      };
    case 'timecode-backwards':
      return {
        consequence: `${clipName(fault.later)} was recorded after ${clipName(fault.earlier)} but its timecode lies ${quantity(fault.measured)} before it: the clock of the camera was set back, and later clips may repeat timecode.`,
        remedy: `Jam the clock of the camera; have pulls of ${clipName(fault.later)} checked by file name.`,
      };
    case 'not-on-record':
      return {
        consequence: `Nothing is on record of the lens of ${listed(fault.subject.map(clipName))}: nobody can say the lens is the same.`,
        remedy: `Write lens, serial, focal length, focus and stop into the camera report (or bring in the sidecars) while the camera still stands, and check again.`,
      };
    case 'move-differs':
      return {
        consequence: `The camera moves in ${fault.set.slate} and the marks of the move are on record for ${quantity(fault.measured)}: nobody can tell whether the passes follow one path, and they will drift apart where they do not.`,
        remedy: `Note the marks of the move with their timecode for each pass (move notes: slate, take, pass, mark, tc) while the floor marks are still down.`,
      };
    case 'misregistered':
    case 'exposure-differs':
    case 'colour-differs':
    case 'camera-moved':
    case 'no-split-line':
    case 'person-in-clean-plate':
    case 'screen-spill':
    case 'screen-uneven':
    case 'frozen-frames':
    case 'black-frames':
      return wordingOfPicture(fault);
    default:
      return 'passes' in fault ? differs(fault) : notTheShows(fault);
  }
}

const GAP_SEEN = { stop: 'the action jumps there', warn: 'the handles are incomplete there', note: 'nothing that is needed lies there' } as const;

/** What it leads to that a row of the shot list gives no cut that can be placed in its lead. */
export function wordingOfShotRow({ problem, clip }: UnreadFault): Wording {
  return {
    consequence: `The cut in ${clipName(clip)} could not be placed (found ${problem.found}, expected ${problem.expected}): its passes are held against the whole take instead.`,
    remedy: sentence(problem.remedy),
  };
}

/** What a reading problem leads to; what to do about it the reader has said. */
export function wordingOfProblem({ problem, clip }: UnreadFault): Wording {
  const name = clipName(clip);
  const consequences: Partial<Record<FindingCode, string>> = {
    'unreadable-clip': `${name} cannot be read, so it stands for no pass.`,
    'truncated-clip': `${name} is cut off: frames are missing, and it stands for no pass until a whole copy is there.`,
    'still-growing': `${name} is still being written, so it stands for no pass yet.`,
    'file-altered': `${name} is not what its hash list says: its bytes changed since they were recorded, and its pictures may be damaged.`,
    'unreadable-value': `A value of ${name} could not be read and was left out of the comparison.`,
  };
  return {
    consequence: consequences[problem.code] ?? `${name}: found ${problem.found}, expected ${problem.expected}.`,
    remedy: problem.remedy === '' ? `Copy ${name} again from the card and run the check again; erase nothing until it is clear.` : sentence(problem.remedy),
  };
}

/** What a value no camera can have leads to. */
export function wordingOfImpossible(clip: Clip, what: string, raw: string, expected: string): Wording {
  return {
    consequence: `${capital(what)} of ${clipName(clip)} is given as "${raw}", which no camera can have (${expected}): it is left out of the comparison.`,
    remedy: `Find out what it was and correct it where it stands, or take it out.`,
  };
}

/** What a clip was shot with, for whoever must reproduce it: "35 mm, T2.8, focus 2.4 m, …"; "" when nothing is on record. */
export function setUpText(clip: Clip): string {
  const { lens, exposure, position, sensorRate, rate } = withoutImpossible(clip);
  const stop = lens.stop?.value;
  const parts = [
    lens.model?.value,
    lens.serial && `serial ${lens.serial.value}`,
    lens.focalLengthMm && `${figure(lens.focalLengthMm.value, 2)} mm`,
    stop && stopText(stop, lens.stop),
    lens.focusDistanceM && `focus ${asWritten(metres(lens.focusDistanceM.value), lens.focusDistanceM)}`,
    lens.filters?.value.text,
    exposure.ei && `EI ${exposure.ei.value}`,
    exposure.whiteBalanceK && `${exposure.whiteBalanceK.value} K`,
    exposure.shutterDeg && `shutter ${asWritten(`${figure(exposure.shutterDeg.value, 2)}°`, exposure.shutterDeg)}`,
    rate && `${rateName(rate)} fps`,
    sensorRate && `sensor ${rateName(sensorRate)} fps`,
    position.heightM && `height ${asWritten(metres(position.heightM.value), position.heightM)}`,
    position.tiltDeg && `tilt ${figure(position.tiltDeg.value, 2)}°`,
    position.rollDeg && `roll ${figure(position.rollDeg.value, 2)}°`,
  ];
  return parts.filter((part) => part !== undefined && part !== '').join(', ');
}

function stopText({ kind, number }: Stop, written: Chosen<Stop> | undefined): string {
  const text = stopAsWritten(`${kind === 'T' ? 'T' : kind === 'f' ? 'f/' : ''}${figure(number, 2)}`, written);
  return /^\d/u.test(text) ? `stop ${text}` : text;
}

/** What is seen of a difference, and how to set the camera as it was for the lead. */
type SeenAndSet = readonly [seen: string, setTo: (value: string, what: string) => string];

const DIFFERENCES: Readonly<Record<DifferenceCode, SeenAndSet>> = {
  'frame-rate-differs': ['frames of the two stop matching as soon as they run, and action and blur differ', (to) => `set the camera to ${to}`],
  'sensor-rate-differs': ['things move faster in one than in the other, and blur differently', (to) => `set the sensor to ${to}`],
  'timecode-format-differs': ['one label means two different frames, so an edit list cannot lay them over each other', (to) => `set the timecode to ${to}`],
  'shutter-differs': ['moving edges change along the split', (to) => `set the shutter to ${to}`],
  'lens-differs': ['another lens bends the picture in another way, and no shift or scale makes the two lie over each other', (to, what) => `put ${what} ${to} back on`],
  'focal-length-differs': ['the set does not meet along the split', (to) => `set the lens to ${to}`],
  'focus-differs': ['sharpness of the set changes along the split, and most lenses frame a little differently', (to) => `set the focus to ${to}`],
  'stop-differs': ['light and sharpness of the set change along the split', (to) => `set the iris to ${to}`],
  'filter-differs': ['light, contrast or halation change along the split', (to) => `use ${to}`],
  'squeeze-differs': ['the two are squeezed differently, and only one of them unfolds right', (to) => `put a lens of squeeze ${to} on`],
  'raster-differs': ['the picture was cut from or scaled to another size, so nothing lies over each other without resampling', (to) => `record ${to}`],
  'sensitivity-differs': ['noise and level change along the split', (to) => `set EI ${to}`],
  'white-balance-differs': ['colour changes along the split', (to) => `set the white balance to ${to}`],
  'codec-differs': ['fine detail and noise are kept differently on the two sides of the split', (to) => `record ${to}`],
  'camera-differs': ['no two bodies agree to the pixel in where the lens sits, in noise or in colour', (to, what) => `put ${what} ${to} back`],
  'height-differs': ['near things shift against far ones, which no reframing puts right', (to) => `bring the camera to ${to}`],
  'tilt-differs': ['the set does not meet along the split until one pass is reframed, which costs picture at its edges', (to) => `tilt to ${to}`],
  'roll-differs': ['the set leans along the split until one pass is turned, which costs picture at its corners', (to) => `roll to ${to}`],
  'position-differs': ['near things shift against far ones, which no reframing puts right', (to, what) => `move the camera until the ${what} is ${to}`],
};

function differs({ code, passes, severity, what, leadText, passText, by, where, cost, worst }: Difference): Wording {
  const [seen, setTo] = DIFFERENCES[code];
  const how = setTo(leadText, what);
  const lead = clipName(passes.lead);
  const pass = `the ${roleName(passes.role)} ${clipName(passes.pass)}`;
  const more = [where, by].filter((part) => part !== '').join(', ');
  const remedies = {
    stop: `${capital(how)} and shoot ${pass} again while the set stands.`,
    warn: `Compare ${pass} with the lead ${lead} at full size before the set is struck; if it shows, ${how} and shoot it again.`,
    note: `Nothing to shoot: tell the compositor of it.`,
  };
  return {
    consequence: `${capital(what)} of ${pass} is ${passText}, of the lead ${lead} ${leadText}${more === '' ? '' : ` (${more})`}: ${seen}${worst === undefined ? '' : `, ${worst}`}.${cost === '' ? '' : ` ${cost}`}`,
    remedy: remedies[severity],
  };
}

/** Readers write remedies as they come: a sentence begins large and ends with a full stop. */
function sentence(text: string): string {
  return capital(/[.!?]$/.test(text) ? text : `${text}.`);
}

function notTheShows({ clip, show, measured }: Extract<Fault, { show: FrameRate }>): Wording {
  return {
    consequence: `${clipName(clip)} plays at ${quantity(measured)} and the show is cut at ${rateName(show)} fps: it runs slower or faster in the cut, or its frames are blended.`,
    remedy: `If that is not meant, set the camera to ${rateName(show)} fps and shoot the passes again; else say so on the sheet.`,
  };
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function missingLead({ slate, camera, shot, subject, belongs }: Extract<Fault, { code: 'missing-lead-pass' }>): Wording {
  const setUp = camera === '' ? slate : `${slate} on camera ${camera}`;
  if (shot !== '') {
    return {
      consequence: `Shot ${shot} needs a take of ${setUp} that is not here: there is nothing to lay its passes under.`,
      remedy: `Bring in the media of ${setUp} for shot ${shot}, or correct slate and take in the shot list.`,
    };
  }
  if (belongs !== undefined) {
    return {
      consequence: `${setUp} has no lead pass, and very likely needs none: ${clipName(belongs.clip)} may be the ${roleName(belongs.role)} of ${slateName(belongs.lead)} under a wrong slate.`,
      remedy: `${lookFirst(belongs)} If it is a set-up of its own, shoot the lead pass of ${setUp} before the set is struck.`,
    };
  }
  const waiting = subject.length === 0 ? '' : `; ${listed(subject.map(clipName))} ${subject.length === 1 ? 'has' : 'have'} no lead to go with`;
  return {
    consequence: `${setUp} has no lead pass that can be used${waiting}.`,
    remedy: `Shoot the lead pass of ${setUp} before the set is struck; if it was shot, name it in the log (column pass) or bring in its file.`,
  };
}

/** The clip under a wrong slate comes before any shooting, with the entry that settles it. */
export function lookFirst({ clip, lead, role }: Belonging): string {
  const entry = `- {kind: confirm, lead: ${fileName(lead)}, clip: ${fileName(clip)}, role: ${role}, who: YOUR NAME, why: wrong slate}`;
  return `First look at ${clipName(clip)}: if it is the ${roleName(role)} of ${slateName(lead)} nothing has to be shot; say so in corrections.yaml: ${entry}.`;
}

function slateName(lead: Clip): string {
  return lead.slate === undefined ? clipName(lead) : `${lead.slate.prefix}${lead.slate.scene}${lead.slate.setUp}`;
}

function fileName({ file }: Clip): string {
  return file.slice(file.lastIndexOf('/') + 1);
}

const LOST: Readonly<Record<MissingPass['code'], string>> = {
  'missing-swapped-pass': 'the second role cannot be put into the shot',
  'missing-clean-plate': 'there is nothing to put behind either role where the split, a shadow or a rig must go',
  'missing-reference': 'light and surface have to be guessed',
};

function missingPass({ code, set, lead, what, severity, unread, minCleanFrames, role, proposed, belongs }: MissingPass): Wording {
  const forWhom = lead === undefined ? set.slate : `${set.slate} (${clipName(lead)})`;
  const setUp = lead === undefined ? '' : setUpText(lead);
  const length = lead === undefined || code === 'missing-reference' ? '' : code === 'missing-clean-plate' ? cleanLength(set, lead, minCleanFrames) : runningTime(lead);
  const how = [setUp, length].filter((part) => part !== '').join('; ');
  const shoot = `${what} for ${forWhom}${how === '' ? '' : ` as the lead was shot: ${how}`}`;
  const consequence = `There is no ${what} for ${forWhom}: ${LOST[code]}.`;
  if (proposed !== undefined && lead !== undefined) {
    return { consequence, remedy: `${lookFirst({ clip: proposed, lead, role })} If it is not, shoot the ${shoot}. Strike nothing before.` };
  }
  if (belongs !== undefined) return { consequence, remedy: `${lookFirst(belongs)} If it is a set-up of its own, shoot the ${shoot}. Strike nothing before.` };
  if (severity !== 'stop') return { consequence, remedy: `If ${lead === undefined ? 'the set' : clipName(lead)} may be used, shoot the ${shoot}.` };
  if (unread.length === 0) return { consequence, remedy: `Shoot the ${shoot}. Strike nothing before.` };
  const copy = `Copy ${listed(unread.map(clipName))} again from the card first`;
  return { consequence, remedy: `${copy}; if nothing more can be read then, shoot the ${shoot}. Strike nothing before.` };
}

/** Held over the shot, a plate of a locked-off camera need not run as long; under a moving one it must. */
function cleanLength({ method }: PlateSet, lead: Clip, minCleanFrames: number): string {
  if (method.movingCamera) return runningTime(lead);
  const { frames, rate } = lead;
  const seconds = rate === undefined ? '' : ` (${figure(minCleanFrames / rateAsNumber(rate), 1)} s)`;
  return `at least ${minCleanFrames} frames${seconds}${frames === undefined || frames <= minCleanFrames ? '' : `, better as long as the lead, ${frames} frames`}`;
}

function runningTime({ frames, rate }: Clip): string {
  if (frames === undefined || rate === undefined) return '';
  return `at least ${frames} frames (${figure(frames / rateAsNumber(rate), 1)} s)`;
}

function shortPass({ code, clip, lead, coverage, cutFrames, handleFrames }: ShortPass): Wording {
  const { needed, role } = coverage;
  const forWhat = needed.shot === undefined ? `the take ${clipName(lead)}` : `shot ${needed.shot}`;
  const name = `${clipName(clip)} (${roleName(role)})`;
  if (code === 'no-overlap') {
    return {
      consequence: `${name} shares no frame with the range of ${forWhat}, ${framesText(needed.cut)} of the lead: there is nothing to join.`,
      remedy: `Check sync and cut range of ${forWhat} (${needed.from}); if they are right, shoot the ${roleName(role)} again over the whole range.`,
    };
  }
  const end = code === 'short-head' ? 'starts' : 'ends';
  const side = code === 'short-head' ? 'late' : 'early';
  const lacks = [
    cutFrames > 0 ? `${cutFrames} frames of the ${needed.basis === 'lead-take' ? 'lead take' : 'cut range'}` : '',
    handleFrames > 0 ? `${handleFrames} handle frames` : '',
  ].filter((part) => part !== '');
  const seen =
    cutFrames === 0
      ? 'there is nothing to trim, dissolve or retime with at that end'
      : role === 'lead'
        ? 'the shot has no picture there'
        : needed.basis === 'lead-take'
          ? 'a cut that uses them has only one role in frame'
          : `the second role is missing from the picture there`;
  return {
    consequence: `${name} ${end} too ${side} for ${forWhat} (${framesText(needed.cut)} of the lead), ${lacks.join(' and ')} are missing: ${seen}.`,
    remedy:
      role === 'lead'
        ? `Shorten the cut or its handles in the shot list (${needed.from}), or shoot again and roll longer.`
        : cutFrames === 0
          ? `Accept a ${code === 'short-head' ? 'head' : 'tail'} handle of ${heldHandle(code, coverage)} (shot list), or shoot the ${roleName(role)} again over ${framesText(pullRange(needed.cut, needed.handles))} of the lead.`
          : `Shoot the ${roleName(role)} again over ${framesText(pullRange(needed.cut, needed.handles))} of the lead, or keep the cut within ${framesText(overlap(coverage.available, needed.cut) ?? coverage.available)}.`,
  };
}

/** Handle frames that are there at this end; the missing ones are counted in the coverage. */
function heldHandle(code: ShortPass['code'], { needed, missingHeadHandle, missingTailHandle }: ShortPass['coverage']): number {
  return code === 'short-head' ? needed.handles.head - missingHeadHandle : needed.handles.tail - missingTailHandle;
}

function shortCleanPlate({ clip, measured, allowed, passes, needed }: Extract<Fault, { code: 'clean-plate-short' }>): Wording {
  if (!passes.method.movingCamera) {
    return {
      consequence: `${clipName(clip)} (clean plate) holds ${quantity(measured)} where ${quantity(allowed)} are needed: too few to average the noise away, so it looks frozen when held.`,
      remedy: `Shoot the clean plate again from the same spot for at least ${quantity(allowed)}.`,
    };
  }
  const range = needed === undefined ? 'the whole move' : `${framesText(needed.cut)} of the lead`;
  return {
    consequence: `${clipName(clip)} (clean plate) leaves ${quantity(measured)} of the move uncovered: nothing to put behind the roles there while the camera moves.`,
    remedy: `Shoot the clean plate again over the whole move, so that it holds ${range} with handles.`,
  };
}

/** Frames as people read them, both ends in. */
function framesText(range: FrameRange): string {
  return `frames ${range.start} to ${lastFrame(range)}`;
}

function guessedRole(clip: Clip): string {
  return `${clipName(clip)} is (taken for the ${roleName(clip.role)})`;
}

function quantity({ value, unit }: Fault['measured']): string {
  return unit === '' ? String(value) : `${value} ${unit}`;
}

/** "focusDistance" in a sentence: "focus distance". */
function spaced(field: string): string {
  return field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
