import type { View } from './scene.ts';

/**
 * One shooting day of an invented production, "Saltmarsh Row", as data: which clips lie on which card, what the camera and
 * the crew noted, and which fault each set-up carries. `make.ts` turns it into files; `README.md` lists what each is for.
 */

export type Role = 'lead' | 'swapped' | 'clean' | 'reference' | 'element' | 'none';

/** What the crew and the camera noted of one clip. Distances in metres, focal length in mm, angles in degrees. */
export interface Facts {
  readonly lens: string;
  readonly serial: string;
  readonly focal: number;
  readonly focus: number;
  readonly stop: string;
  readonly filters: string;
  readonly ei: number;
  readonly wb: number;
  readonly shutter: number;
  readonly sensorFps: number;
  readonly height: number;
  readonly tilt: number;
  readonly rollAngle: number;
  readonly subject: number;
  readonly background: number;
}

export interface PlannedClip {
  readonly card: string;
  readonly number: number;
  readonly format: 'mov' | 'mp4' | 'mxf-op1a' | 'mxf-opatom' | 'exr' | 'dpx' | 'tiff' | 'png';
  readonly slate: string;
  readonly take: number;
  readonly role: Role;
  readonly passWord: string;
  readonly circled: boolean;
  readonly forSlate: string;
  readonly method: string;
  readonly notes: string;
  readonly start: string;
  readonly fps: number;
  readonly frames: number;
  readonly facts: Facts;
  readonly view: View;
  /** What is done to the file after it was written. */
  readonly damage: 'none' | 'cut-off' | 'empty' | 'hole';
  /** What a tracker recorded of the camera along the take; absent when none ran. Focus is pulled `to` metres, `lateFrames` after the middle of the take. */
  readonly tracked?: { readonly focusTo: number; readonly lateFrames: number };
  /** Where the lens and position facts are written: the camera report, an XML sidecar, or nowhere but in the file. */
  readonly noted: 'report' | 'sidecar' | 'file';
}

const CALDER_25: Facts = {
  lens: 'Calder Prime 25', serial: 'CP-2507', focal: 25, focus: 3.2, stop: 'T2.8', filters: 'ND.6', ei: 800, wb: 5600, shutter: 172.8,
  sensorFps: 24, height: 1.2, tilt: 0, rollAngle: 0, subject: 3.2, background: 6,
};

const ROOM: View = {
  left: 'none', right: 'none', set: 'room', focalLengthMm: 25, heightM: 1.2, sideM: 0, tiltDeg: 0, rollDeg: 0, stops: 0, warmth: 1,
  phase: 0, travelM: 0, riseM: 0, approachM: 0, times: 1, seed: 1, grain: 1,
};

/** Twice as large: pictures are measured only from 640 px on. */
const LARGE: Partial<View> = { times: 2 };

const CAST: Record<Role, Partial<View>> = {
  lead: { left: 'performer-a', right: 'double' },
  swapped: { left: 'double', right: 'performer-b' },
  clean: {},
  reference: { set: 'grey-ball' },
  element: { set: 'screen', left: 'performer-b' },
  none: { left: 'performer-a' },
};

const PASS_WORDS: Record<Role, string> = { lead: 'Lead', swapped: 'Swapped', clean: 'Clean plate', reference: 'Ref', element: 'EL', none: '' };

type Wish = { readonly number: number; readonly slate: string; readonly take: number; readonly role: Role; readonly start: string } & Partial<
  Omit<PlannedClip, 'facts' | 'view' | 'card'>
> & { readonly facts?: Partial<Facts>; readonly view?: Partial<View> };

/** Fills in what a clip has in common with the rest of the day, and lets the drawn picture follow the noted facts. */
function clip(card: string, wish: Wish): PlannedClip {
  const facts = { ...CALDER_25, ...wish.facts };
  const frames = wish.frames ?? (wish.role === 'clean' ? 32 : 60);
  return {
    card, format: 'mov', passWord: PASS_WORDS[wish.role], circled: false, forSlate: '', method: '', notes: '', fps: 24, damage: 'none',
    noted: 'report', ...wish, frames, facts,
    view: {
      ...ROOM, ...CAST[wish.role], focalLengthMm: facts.focal, heightM: facts.height, tiltDeg: facts.tilt, rollDeg: facts.rollAngle,
      phase: wish.number * 1.3, seed: wish.number + card.charCodeAt(0), grain: card === SEQ ? 0 : 1, ...wish.view,
    },
  };
}

/** The "card" of picture sequences: stills and plates converted from roll A016. */
const SEQ = 'stills';
const A14 = 'A014_K3QX';
const A15 = 'A015_M8TR';
const A16 = 'A016_P2VN';
const A17 = 'A017_T6WD';
const B07 = 'B007_H4LC';
const C03 = 'C003_R9BE';

const DOLLY = { travelM: 0.35 };
const LONGER = { lens: 'Calder Prime 25', serial: 'CP-2511', focal: 25.5 };

export const DAY: readonly PlannedClip[] = [
  // 27B: takes run on, the log names the pass. Nothing wrong.
  clip(A14, { number: 1, slate: '27B', take: 1, role: 'lead', start: '09:12:04:10' }),
  clip(A14, { number: 2, slate: '27B', take: 2, role: 'lead', start: '09:15:31:02', circled: true }),
  clip(A14, { number: 3, slate: '27B', take: 3, role: 'swapped', start: '09:31:40:00' }),
  clip(A14, { number: 4, slate: '27B', take: 4, role: 'swapped', start: '09:34:12:18', circled: true, frames: 66 }),
  clip(A14, { number: 5, slate: '27B', take: 5, role: 'clean', start: '09:37:55:06' }),
  // 31A: the slate's suffix names the pass. Nothing wrong.
  clip(A14, { number: 6, slate: '31A', take: 1, role: 'lead', start: '10:02:20:00', circled: true, passWord: '' }),
  clip(A14, { number: 7, slate: '31A-SW', take: 1, role: 'swapped', start: '10:09:44:12', circled: true, passWord: '' }),
  clip(A14, { number: 8, slate: '31A-CP', take: 1, role: 'clean', start: '10:12:03:20', passWord: '' }),
  // 12F: an ordinary shot of the day; no pass of anything.
  clip(A14, { number: 9, slate: '12F', take: 1, role: 'none', start: '10:25:10:00', frames: 36, passWord: '' }),
  // 31C, 31D, 31E: every pass has a set-up letter of its own and a note "for 31C". MXF. Nothing wrong.
  clip(A15, { number: 1, slate: '31C', take: 1, role: 'lead', start: '10:48:09:00', circled: true, format: 'mxf-op1a' }),
  clip(A15, { number: 2, slate: '31D', take: 1, role: 'swapped', start: '10:57:30:05', circled: true, forSlate: '31C', format: 'mxf-op1a', notes: 'swapped for 31C' }),
  clip(A15, { number: 3, slate: '31E', take: 1, role: 'clean', start: '11:01:12:11', format: 'mxf-op1a', passWord: '', notes: 'clean plate for 31C' }),
  // 42A: motion control; every pass is triggered at the same timecode. Nothing wrong.
  clip(A15, { number: 4, slate: '42A', take: 1, role: 'lead', start: '01:00:00:00', circled: true, method: 'moco', view: DOLLY, notes: 'moco trigger TC' }),
  clip(A15, { number: 5, slate: '42A', take: 2, role: 'swapped', start: '01:00:00:00', circled: true, method: 'moco', view: DOLLY, notes: 'moco trigger TC' }),
  clip(A15, { number: 6, slate: '42A', take: 3, role: 'clean', start: '01:00:00:00', method: 'moco', view: DOLLY, frames: 60, notes: 'moco trigger TC' }),
  // 42C: handheld to marks; the swapped pass stood 15 mm higher and came to the door five frames late.
  clip(A15, { number: 7, slate: '42C', take: 1, role: 'lead', start: '11:40:00:00', circled: true, method: 'handheld', view: DOLLY }),
  clip(A15, { number: 8, slate: '42C', take: 2, role: 'swapped', start: '11:52:10:00', circled: true, method: 'handheld', view: DOLLY, facts: { height: 1.215 } }),
  clip(A15, { number: 9, slate: '42C', take: 3, role: 'clean', start: '11:58:41:00', method: 'handheld', view: DOLLY, frames: 64 }),
  // 43A: handheld with a tracker; the swapped pass rose 10 mm along the way, and its focus was pulled five frames late.
  clip(A15, { number: 10, slate: '43A', take: 1, role: 'lead', start: '12:10:00:00', circled: true, method: 'handheld', view: DOLLY, tracked: { focusTo: 2.4, lateFrames: 0 }, notes: 'sync 12:10:00:05' }),
  clip(A15, { number: 11, slate: '43A', take: 2, role: 'swapped', start: '12:21:30:00', circled: true, method: 'handheld', view: { ...DOLLY, riseM: 0.01 }, tracked: { focusTo: 2.4, lateFrames: 5 }, notes: 'sync 12:21:30:05' }),
  clip(A15, { number: 12, slate: '43A', take: 3, role: 'clean', start: '12:26:00:00', method: 'handheld', view: DOLLY, frames: 60 }),
  // 44A: element against a screen, as a PNG sequence with a hole in its numbering.
  clip(A16, { number: 1, slate: '44A', take: 1, role: 'lead', start: '13:20:00:00', circled: true, method: 'screen-element', view: { right: 'none' } }),
  clip(A16, { number: 2, slate: '44A', take: 2, role: 'clean', start: '13:24:30:00', method: 'screen-element' }),
  clip(SEQ, { number: 3, slate: '44A', take: 3, role: 'element', start: '13:41:10:00', circled: true, method: 'screen-element', format: 'png', damage: 'hole' }),
  // 45B: head replacement; the scan or texture reference was never shot.
  clip(A16, { number: 4, slate: '45B', take: 1, role: 'lead', start: '14:03:00:00', circled: true, method: 'head-replacement' }),
  clip(A16, { number: 5, slate: '45B', take: 2, role: 'swapped', start: '14:11:20:00', circled: true, method: 'head-replacement', passWord: 'Head pass' }),
  clip(A16, { number: 6, slate: '45B', take: 3, role: 'clean', start: '14:15:02:00', method: 'head-replacement' }),
  // 46A: digital double; balls and scan as stills, the lead as EXR with lens data in its headers. Nothing wrong.
  clip(SEQ, { number: 7, slate: '46A', take: 1, role: 'lead', start: '14:40:00:00', circled: true, method: 'digital-double', format: 'exr', frames: 24, noted: 'file', view: { right: 'none' } }),
  clip(A16, { number: 8, slate: '46A', take: 2, role: 'clean', start: '14:44:00:00', method: 'digital-double' }),
  clip(SEQ, { number: 9, slate: '46A', take: 3, role: 'reference', start: '14:46:00:00', method: 'digital-double', format: 'dpx', frames: 2, notes: 'grey ball' }),
  clip(SEQ, { number: 10, slate: '46A', take: 4, role: 'reference', start: '14:47:00:00', method: 'digital-double', format: 'tiff', frames: 2, notes: 'chrome ball', view: { set: 'chrome-ball' } }),
  // 51A: the swapped pass was shot on the other lens of that focal length, and it reads 25.5.
  clip(A16, { number: 11, slate: '51A', take: 1, role: 'lead', start: '15:20:00:00', circled: true }),
  clip(A16, { number: 12, slate: '51A', take: 2, role: 'swapped', start: '15:33:00:00', circled: true, facts: LONGER }),
  clip(A16, { number: 13, slate: '51A', take: 3, role: 'clean', start: '15:36:00:00' }),
  // 51C: the swapped pass ran at 25 fps with the sensor at 50.
  clip(A16, { number: 14, slate: '51C', take: 1, role: 'lead', start: '15:50:00:00', circled: true }),
  clip(A16, { number: 15, slate: '51C', take: 2, role: 'swapped', start: '15:58:00:00', circled: true, fps: 25, facts: { sensorFps: 50 } }),
  clip(A16, { number: 16, slate: '51C', take: 3, role: 'clean', start: '16:02:00:00' }),
  // 52A: nobody shot the clean plate.
  clip(A17, { number: 1, slate: '52A', take: 1, role: 'lead', start: '16:20:00:00', circled: true }),
  clip(A17, { number: 2, slate: '52A', take: 2, role: 'swapped', start: '16:28:00:00', circled: true }),
  // 52D: the swapped pass was cut 14 frames before the shot list's cut range ends.
  clip(A17, { number: 3, slate: '52D', take: 1, role: 'lead', start: '16:40:00:00', circled: true, frames: 72 }),
  clip(A17, { number: 4, slate: '52D', take: 2, role: 'swapped', start: '16:47:00:00', circled: true, frames: 46 }),
  clip(A17, { number: 5, slate: '52D', take: 3, role: 'clean', start: '16:50:00:00' }),
  // 53A: two swapped takes, neither circled, nothing to choose between them.
  clip(A17, { number: 6, slate: '53A', take: 1, role: 'lead', start: '17:02:00:00', circled: true }),
  clip(A17, { number: 7, slate: '53A', take: 2, role: 'swapped', start: '17:10:00:00' }),
  clip(A17, { number: 8, slate: '53A', take: 3, role: 'swapped', start: '17:12:00:00' }),
  clip(A17, { number: 9, slate: '53A', take: 4, role: 'clean', start: '17:15:00:00' }),
  // 54A: the swapped pass was cut off in copying.
  clip(A17, { number: 10, slate: '54A', take: 1, role: 'lead', start: '17:30:00:00', circled: true, format: 'mxf-op1a' }),
  clip(A17, { number: 11, slate: '54A', take: 2, role: 'swapped', start: '17:38:00:00', circled: true, format: 'mxf-op1a', damage: 'cut-off' }),
  clip(A17, { number: 12, slate: '54A', take: 3, role: 'clean', start: '17:42:00:00', format: 'mxf-op1a' }),
  // 56A: the log calls the swapped pass a lead pass; the corrections file puts it right.
  clip(A17, { number: 13, slate: '56A', take: 1, role: 'lead', start: '18:00:00:00', circled: true }),
  clip(A17, { number: 14, slate: '56A', take: 2, role: 'swapped', start: '18:08:00:00', circled: true, passWord: 'Lead' }),
  clip(A17, { number: 15, slate: '56A', take: 3, role: 'clean', start: '18:11:00:00' }),
  // 57B: the swapped pass was slated 57D by mistake.
  clip(A17, { number: 16, slate: '57B', take: 1, role: 'lead', start: '18:30:00:00', circled: true }),
  clip(A17, { number: 17, slate: '57D', take: 1, role: 'swapped', start: '18:38:00:00', circled: true }),
  clip(A17, { number: 18, slate: '57B', take: 2, role: 'clean', start: '18:41:00:00' }),
  // 58A and 58B are larger, so that their pictures are looked at. In 58A a line joins them; in 58B the papers are in order, but the sisters hug.
  clip(A17, { number: 19, slate: '58A', take: 1, role: 'lead', start: '18:50:00:00', circled: true, frames: 30, view: LARGE }),
  clip(A17, { number: 20, slate: '58A', take: 2, role: 'swapped', start: '18:56:00:00', circled: true, frames: 30, view: LARGE }),
  clip(A17, { number: 21, slate: '58A', take: 3, role: 'clean', start: '18:59:00:00', frames: 24, view: LARGE }),
  clip(A17, { number: 22, slate: '58B', take: 1, role: 'lead', start: '19:10:00:00', circled: true, frames: 30, view: { ...LARGE, approachM: 0.5 } }),
  clip(A17, { number: 23, slate: '58B', take: 2, role: 'swapped', start: '19:16:00:00', circled: true, frames: 30, view: { ...LARGE, approachM: 0.5 } }),
  clip(A17, { number: 24, slate: '58B', take: 3, role: 'clean', start: '19:19:00:00', frames: 24, view: LARGE }),
  // 55A, camera B with XML sidecars: EI and white balance were changed between the passes.
  clip(B07, { number: 1, slate: '55A', take: 1, role: 'lead', start: '10:10:00:00', circled: true, noted: 'sidecar' }),
  clip(B07, { number: 2, slate: '55A', take: 2, role: 'swapped', start: '10:18:00:00', circled: true, noted: 'sidecar', facts: { ei: 1600, wb: 4300 }, view: { stops: 0.35, warmth: 0.9 } }),
  clip(B07, { number: 3, slate: '55A', take: 3, role: 'clean', start: '10:21:00:00', noted: 'sidecar' }),
  // 55B: the camera's clock was set back between the passes, and the clean plate ran half a second.
  clip(B07, { number: 4, slate: '55B', take: 1, role: 'lead', start: '11:00:00:00', circled: true, noted: 'sidecar', frames: 72 }),
  clip(B07, { number: 5, slate: '55B', take: 2, role: 'swapped', start: '11:00:01:00', circled: true, noted: 'sidecar', frames: 72 }),
  clip(B07, { number: 6, slate: '55B', take: 3, role: 'clean', start: '10:59:00:00', noted: 'sidecar', frames: 12 }),
  clip(B07, { number: 7, slate: '55B', take: 4, role: 'none', start: '11:20:00:00', noted: 'sidecar', damage: 'empty' }),
  // 214: running slate numbers at 25 fps, OP-Atom. Nothing wrong.
  clip(C03, { number: 1, slate: '214', take: 1, role: 'lead', start: '12:00:00:00', circled: true, fps: 25, format: 'mxf-opatom', frames: 40, facts: { sensorFps: 25, shutter: 180 } }),
  clip(C03, { number: 2, slate: '214', take: 2, role: 'swapped', start: '12:08:00:00', circled: true, fps: 25, format: 'mxf-opatom', frames: 44, facts: { sensorFps: 25, shutter: 180 } }),
  clip(C03, { number: 3, slate: '214', take: 3, role: 'clean', start: '12:11:00:00', fps: 25, format: 'mp4', frames: 30, facts: { sensorFps: 25, shutter: 180 } }),
];

/** Base name in the camera's style: `A014C002_261124_K3QX`. */
export function clipName({ card, number, slate }: PlannedClip): string {
  if (card === SEQ) return `A016C${String(number).padStart(3, '0')}_${slate}`;
  const [roll = '', hash = ''] = card.split('_');
  return `${roll}C${String(number).padStart(3, '0')}_261124_${hash}`;
}

/** Camera letter of a clip. */
export function cameraOf({ card }: PlannedClip): string {
  return card === SEQ ? 'A' : card.charAt(0);
}

/** Roll name: `A014`. */
export function rollOf({ card }: PlannedClip): string {
  return card === SEQ ? 'A016' : (card.split('_')[0] ?? card);
}
