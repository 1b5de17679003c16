/**
 * Remakes sample-media/day-04 from `day.ts`: `npm run sample-media`. Needs the ffmpeg that npm installs (or GEMEL_FFMPEG); with the
 * same ffmpeg the same bytes come out, and PROVENANCE.json holds the SHA-256 of each file.
 */
import { createHash } from 'node:crypto';
import { createRequire } from 'node:module';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { frameRate } from '../src/core/timecode/rate.ts';
import { formatTimecode, parseLabel, shiftTimecode, timecodeFormat } from '../src/core/timecode/timecode.ts';
import { cameraOf, clipName, DAY, rollOf } from './day.ts';
import type { PlannedClip } from './day.ts';
import { drawFrame } from './scene.ts';
import { trackingOf } from './tracking.ts';
import { writeDpx, writeExr, writeMovie, writeStill } from './writers.ts';

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(import.meta.url);

function ffmpegPath(): string {
  const installer = require('@ffmpeg-installer/ffmpeg') as { path: string };
  return process.env['GEMEL_FFMPEG'] ?? installer.path;
}

function make(): void {
  const ffmpeg = ffmpegPath();
  const building = mkdtempSync(join(here, '.building-'));
  for (const [index, clip] of DAY.entries()) {
    if (process.stderr.isTTY) process.stderr.write(`\r${index + 1}/${DAY.length} ${clipName(clip)}          `);
    writeClip(ffmpeg, building, clip);
  }
  writePapers(building);
  rmSync(join(here, 'day-04'), { recursive: true, force: true });
  renameSync(building, join(here, 'day-04'));
  writeFileSync(join(here, 'PROVENANCE.json'), provenance());
  process.stderr.write(`${DAY.length} clips made in sample-media/day-04\n`);
}

function labelOf(clip: PlannedClip, offset: number): string {
  const format = timecodeFormat(frameRate(clip.fps), false);
  return formatTimecode(shiftTimecode(parseLabel(clip.start, format), offset));
}

function bcdOf(label: string): number {
  return Number.parseInt(label.replaceAll(':', ''), 16);
}

function writeClip(ffmpeg: string, root: string, clip: PlannedClip): void {
  const name = clipName(clip);
  const folder = join(root, clip.card, ...(isSequence(clip) ? [name] : []));
  mkdirSync(folder, { recursive: true });
  const frames = Array.from({ length: clip.frames }, (_, n) => drawFrame(clip.view, n / clip.fps, clip.frames / clip.fps));
  if (clip.format === 'mov' || clip.format === 'mp4' || clip.format === 'mxf-op1a' || clip.format === 'mxf-opatom') {
    const path = join(folder, `${name}.${clip.format.startsWith('mxf') ? 'mxf' : clip.format}`);
    if (clip.damage === 'empty') return writeFileSync(path, '');
    writeMovie(ffmpeg, path, frames, { format: clip.format, times: clip.view.times, fps: clip.fps, start: clip.start, tags: { reel_name: rollOf(clip) } });
    if (clip.damage === 'cut-off') truncateSync(path, Math.round(readFileSync(path).length * 0.6));
    return;
  }
  frames.forEach((frame, n) => {
    if (clip.damage === 'hole' && n >= 20 && n < 23) return;
    writePicture(ffmpeg, join(folder, `${name}.${String(1001 + n).padStart(4, '0')}`), clip, frame, labelOf(clip, n));
  });
}

function isSequence(clip: PlannedClip): boolean {
  return clip.format === 'exr' || clip.format === 'dpx' || clip.format === 'tiff' || clip.format === 'png';
}

function writePicture(ffmpeg: string, stem: string, clip: PlannedClip, frame: Uint8Array, label: string): void {
  const { facts } = clip;
  if (clip.format === 'exr') {
    writeExr(`${stem}.exr`, frame, {
      timecodeBcd: bcdOf(label), framesPerSecond: [clip.fps, 1], captureRate: [facts.sensorFps, 1], focalLengthMm: facts.focal, focusM: facts.focus,
      tStop: Number(facts.stop.slice(1)), shutterDeg: facts.shutter, iso: facts.ei, kelvin: facts.wb, lens: facts.lens, serial: facts.serial, reel: rollOf(clip),
    });
  } else if (clip.format === 'dpx') {
    writeDpx(`${stem}.dpx`, frame, { timecodeBcd: bcdOf(label), fps: clip.fps, shutterDeg: facts.shutter, slate: `${clip.slate}-${clip.take}` });
  } else {
    writeStill(ffmpeg, `${stem}.${clip.format === 'tiff' ? 'tif' : 'png'}`, frame);
  }
}

/** Camera report, script log, shot list, move notes, sidecars and corrections, as a crew would write them. */
function writePapers(root: string): void {
  const papers = join(root, 'reports');
  mkdirSync(papers, { recursive: true });
  writeFileSync(join(papers, 'camera-report-A.csv'), `\ufeff${cameraReport()}`);
  writeFileSync(join(papers, 'script-log.tsv'), scriptLog());
  writeFileSync(join(papers, 'shots.csv'), SHOT_LIST);
  writeFileSync(join(papers, 'moves-42C.csv'), MOVE_NOTES);
  writeFileSync(join(papers, 'corrections.yaml'), CORRECTIONS);
  mkdirSync(join(root, 'tracking'));
  for (const clip of DAY) {
    if (clip.tracked !== undefined) writeFileSync(join(root, 'tracking', `${clipName(clip)}_track.jsonl`), trackingOf(clip, (frame) => labelOf(clip, frame)));
    if (clip.noted === 'sidecar') writeFileSync(join(root, clip.card, `${clipName(clip)}.xml`), sidecar(clip));
  }
  writeFileSync(join(root, 'B007_H4LC', 'B007C011_261124_H4LC.xml'), sidecar({ ...anyClip('B007_H4LC'), number: 11, start: '11:41:00:00' }));
}

function anyClip(card: string): PlannedClip {
  const found = DAY.find((clip) => clip.card === card);
  if (found === undefined) throw new Error(`no clip on ${card}`);
  return found;
}

function csv(rows: readonly (readonly string[])[], separator: string): string {
  const cell = (text: string): string => (/["\r\n]/.test(text) || text.includes(separator) ? `"${text.replaceAll('"', '""')}"` : text);
  return `${rows.map((row) => row.map(cell).join(separator)).join('\r\n')}\r\n`;
}

function cameraReport(): string {
  const heading = ['Clip Name', 'Cam', 'Roll', 'TC In', 'TC Out', 'FPS', 'Sensor FPS', 'Shutter Angle', 'Lens', 'Lens S/N', 'Focal (mm)', 'Focus', 'T-Stop', 'Filter', 'ISO', 'WB', 'Height', 'Tilt °', 'Roll °', 'Subject Distance', 'Background Distance'];
  const rows = DAY.filter((clip) => clip.noted === 'report').map((clip) => {
    const { facts } = clip;
    // One cell nobody can read, as happens: the focus of 52A's swapped pass.
    const focus = clip.slate === '52A' && clip.role === 'swapped' ? 'see AC notes' : `${facts.focus} m`;
    return [
      clipName(clip), cameraOf(clip), rollOf(clip), clip.start, labelOf(clip, clip.frames), String(clip.fps), String(facts.sensorFps), `${facts.shutter}°`, facts.lens, facts.serial,
      String(facts.focal), focus, facts.stop, facts.filters, String(facts.ei), `${facts.wb}K`, `${Math.round(facts.height * 1000) / 10} cm`, String(facts.tilt), String(facts.rollAngle), `${facts.subject} m`, `${facts.background} m`,
    ];
  });
  return csv([heading, ...rows, ['A016C099_261124_P2VN', 'A', 'A016', '16:10:00:00', '16:10:04:00', '24', '24', '172.8°', '', '', '', '', '', '', '', '', '', '', '', '', '']], ',');
}

function scriptLog(): string {
  const heading = ['Clip Name', 'Slate', 'Tk', 'Pass', 'For Slate', 'Circled', 'Method', 'Notes'];
  const rows = DAY.map((clip) => [clipName(clip), clip.slate, String(clip.take), clip.passWord, clip.forSlate, clip.circled ? 'x' : '', clip.method, clip.notes]);
  return csv([heading, ...rows], '\t');
}

function sidecar(clip: PlannedClip): string {
  const { facts } = clip;
  return `<?xml version="1.0" encoding="UTF-8"?>
<ClipRecord>
  <Camera>${cameraOf(clip)}</Camera>
  <Roll>${rollOf(clip)}</Roll>
  <TcIn>${clip.start}</TcIn>
  <Fps>${clip.fps}</Fps>
  <SensorFps>${facts.sensorFps}</SensorFps>
  <Lens serial="">${facts.lens}</Lens>
  <LensSerial>${facts.serial}</LensSerial>
  <FocalLength>${facts.focal} mm</FocalLength>
  <FocusDistance>${facts.focus} m</FocusDistance>
  <Stop>${facts.stop}</Stop>
  <Filters>${facts.filters}</Filters>
  <Shutter>${facts.shutter}°</Shutter>
  <EI>${facts.ei}</EI>
  <WhiteBalance>${facts.wb} K</WhiteBalance>
  <CameraHeight>${facts.height} m</CameraHeight>
  <Tilt>${facts.tilt}</Tilt>
  <RollAngle>${facts.rollAngle}</RollAngle>
</ClipRecord>
`;
}

const SHOT_LIST = csv(
  [
    ['Shot', 'Slate', 'Take', 'Method', 'Vendor', 'Description', 'Cut In', 'Cut Out', 'Head', 'Tail', 'Notes'],
    ['SMR_027_0100', '27B', '2', 'split', 'Fenlight Post', 'Ines meets herself at the door', '09:15:31:12', '09:15:33:04', '8', '8', ''],
    ['SMR_042_0050', '42A', '1', 'moco', 'Fenlight Post', 'Slow dolly past both sisters', '01:00:00:10', '01:00:02:00', '', '', ''],
    ['SMR_052_0010', '52D', '1', 'split', 'Fenlight Post', 'The quarrel at the table', '16:40:00:12', '16:40:02:12', '8', '8', 'contact at the handshake'],
  ],
  ',',
);

const MOVE_NOTES = csv(
  [
    ['Slate', 'Take', 'Pass', 'Mark', 'TC', 'X', 'Y', 'Z', 'Pan', 'Tilt', 'Roll', 'Notes'],
    ['42C', '1', 'Lead', 'sync', '11:40:00:06', '0 m', '0 m', '1.2 m', '0', '0', '0', 'clap'],
    ['42C', '1', 'Lead', 'door', '11:40:01:06', '0.18 m', '0 m', '1.2 m', '0', '0', '0', ''],
    ['42C', '1', 'Lead', 'end', '11:40:02:06', '0.35 m', '0 m', '1.2 m', '0', '0', '0', ''],
    ['42C', '2', 'Swapped', 'sync', '11:52:10:08', '0 m', '0 m', '1.215 m', '0', '0', '0', 'clap'],
    ['42C', '2', 'Swapped', 'door', '11:52:11:13', '0.18 m', '0 m', '1.215 m', '0', '0', '0', ''],
    ['42C', '2', 'Swapped', 'end', '11:52:12:08', '0.35 m', '0 m', '1.215 m', '0', '0', '0', ''],
  ],
  ',',
);

const CORRECTIONS = `# Put right by hand, after asking. Every line used is shown on the sheet.
- kind: role
  clip: A017C014_261124_T6WD.mov
  role: swapped
  who: M. Okafor, DIT
  why: the log says Lead for both; script supervisor confirms that take 2 is the swapped pass
`;

function provenance(): string {
  const files = readdirSync(join(here, 'day-04'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .toSorted();
  const rows = files.map((path) => [path.slice(here.length + 1), createHash('sha256').update(readFileSync(path)).digest('hex')]);
  return `${JSON.stringify({ origin: 'drawn by sample-media/make.ts; no photographed material', sha256: Object.fromEntries(rows) }, undefined, 1)}\n`;
}

make();
