import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { FastXmlReader } from '../../src/adapters/xml/fast-xml-reader.ts';
import { parseCorrections } from '../../src/config/parse-corrections.ts';
import { parseMapping } from '../../src/config/parse-mapping.ts';
import { parsePipeline } from '../../src/config/parse-pipeline.ts';
import { parseSensorModes } from '../../src/config/parse-sensor-modes.ts';
import { UnreadableXmlError, UsageError } from '../../src/core/material/errors.ts';
import { forSlateOf } from '../../src/core/material/for-slate.ts';
import { roleReader } from '../../src/core/material/role-words.ts';
import { sayByField } from '../../src/core/material/trust.ts';
import { codeFinder } from '../../src/core/matching/cut/shot-code.ts';
import { slateFromName } from '../../src/core/slate/name-slate.ts';
import { parseSlate, parseTake } from '../../src/core/slate/parse-slate.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import { parseLabel, TimecodeError } from '../../src/core/timecode/timecode.ts';
import { parseTagged } from '../../src/formats/catalogue/tagged-json.ts';
import { parseEdl } from '../../src/formats/edl/parse-edl.ts';
import { nameStatements } from '../../src/formats/media/camera-name.ts';
import { parseExiftoolTags } from '../../src/formats/media/exiftool-tags.ts';
import { parseProbe } from '../../src/formats/media/probe-json.ts';
import { groupSequences } from '../../src/formats/media/sequence-name.ts';
import { formatChain, formatManifest } from '../../src/formats/mhl/format-manifest.ts';
import { ignoresOf } from '../../src/formats/mhl/ignore.ts';
import { parseChain } from '../../src/formats/mhl/parse-chain.ts';
import { parseManifest } from '../../src/formats/mhl/parse-manifest.ts';
import { pathFault } from '../../src/formats/mhl/safe-path.ts';
import { looksLikeOpenTrackIo } from '../../src/formats/opentrackio/looks-like.ts';
import { parseOpenTrackIo } from '../../src/formats/opentrackio/parse-opentrackio.ts';
import { formatOtio } from '../../src/formats/otio/format-otio.ts';
import { parseOtio } from '../../src/formats/otio/parse-otio.ts';
import { parseSheetTemplate } from '../../src/formats/sheet/parse-template.ts';
import { readSidecar } from '../../src/formats/sidecars/read-sidecar.ts';
import { decodeText } from '../../src/formats/tables/decode-text.ts';
import { formatCsv } from '../../src/formats/tables/inert-cell.ts';
import { readTable } from '../../src/formats/tables/read-table.ts';
import { formatShot, parseShot } from '../../src/formats/turnover/shot-file.ts';
import { formatTurnover, parseTurnover } from '../../src/formats/turnover/turnover-file.ts';
import { readField } from '../../src/formats/values/field.ts';
import { FIELDS } from '../../src/core/material/heading.ts';
import { readHeading } from '../../src/formats/values/heading-unit.ts';
import { planTurnover } from '../../src/steps/turnover/plan-turnover.ts';
import { madeSample, ONCE } from '../formats/opentrackio/made-samples.ts';
import { defaultConfig } from '../support/default-config.ts';
import { ROLE_WORDS, SLATE_GRAMMAR } from '../support/make-clips.ts';
import { turnoverDay, turnoverOptions } from '../support/make-turnover.ts';
import { FULL } from '../support/written-manifest.ts';
import { PATIENCE_MS, pumpedText, runs, spoiledBytes, spoiledText, survives } from './fuzz.ts';
import { seedsOf } from './seeds.ts';

const config = defaultConfig();
const { headings, mappings } = config;
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const shipped = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8');
const roles = roleReader(ROLE_WORDS);
const codes = codeFinder(['@@@_###_####', 'S#-@ ###']);
const day = turnoverDay({ cut: [3, 96] }, { cut: [48, 96] });
const plan = planTurnover(day, turnoverOptions(day, { pictures: 'dpx' }));

/** A track may say NaN of a frame that has no value: it is asked for so. */
function table(text: string): unknown {
  const { notes, ...rest } = readTable(utf8(text), 'day/report.csv', headings, mappings);
  return [rest, notes.map(({ tracks, ...note }) => [note, tracks.map(({ values }) => Object.keys(values))])];
}

function json(parse: (value: unknown) => unknown): (text: string) => unknown {
  return (text) => {
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      return undefined;
    }
    return parse(value);
  };
}

interface Target {
  readonly name: string;
  readonly parse: (text: string) => unknown;
  readonly samples: readonly string[];
  readonly refusals?: readonly (abstract new (...args: never[]) => Error)[];
  /** Answers may be larger than the text by more than usual. */
  readonly growth?: number;
  /** Letters of the longest text that is tried; what is slow by nature is tried on less. */
  readonly longest?: number;
}

const REPORT = `File,Slate,Take,Pass,Circled,TC In,FPS,Lens,Focal Length (mm),Focus,Stop,Height cm,Notes\nA003C012_261125_R7QK.mov,27B,3,lead,yes,14:22:33:04,23.976,Plover 35,35mm,12'6",T2.8 1/2,142,"clean plate for 27B, no reference"\nA003C013_261125_R7QK.mov,27B,4,swapped,,14:31:11:12,24000/1001,Plover 35,35,3.81 m,2.8,142,sync 14:31:12:00\n`;
const SHOTS = 'Shot,Slate,Take,Vendor,Cut In,Cut Out,Head,Tail,Notes\nSMR_027_0010,27B,3,Fenlight Post,14:22:34:00,14:22:38:00,8,8,hand on sleeve\n';
const MOVES = 'slate,take,pass,mark,tc,x,y,z,pan,tilt,roll,focal_length,focus_distance,notes\n27B,3,lead,B door,14:22:35:00,1.2 m,0,142 cm,-4,2,0,35,2.4 m,slow\n';
const EDL = 'TITLE: SALTMARSH ROW\n\nFCM: NON-DROP FRAME\n001  A003R7QK V     C        14:22:34:00 14:22:38:00 01:00:00:00 01:00:04:00\n* FROM CLIP NAME: A003C012_261125_R7QK.mov (2) FF\n* ASC_SOP (1.0 1.0 1.0)(0.0 0.0 0.0)(1.0 1.0 1.0)\n* ASC_SAT 0.9\n* LOC: 01:00:01:00 RED SMR_027_0010\nM2   A003R7QK       047.6                14:22:34:00\n002  A003R7QK V2    D    012 14:31:11:12 14:31:15:12 01:00:04:00 01:00:08:00\n>>> SOURCE FILE: x\n';
const OTIO = formatOtio({
  name: 'SMR', rate: frameRate(24000, 1001), start: 86_400,
  tracks: [
    { name: 'lead', clips: [{ name: 'A003C012 (2) FF', at: 0, frames: 96, sourceStart: 100, timeScalar: 2, media: { kind: 'file', url: 'file:///a/b.mov' }, markers: [{ sourceFrame: 104, name: 'SMR_027_0010', comment: 'hand' }] }] },
    { name: 'swapped', clips: [{ name: 's', at: 4, frames: 90, sourceStart: 10, media: { kind: 'sequence', base: 'plates', prefix: 'A.', suffix: '.exr', firstNumber: 1001, padding: 4 } }] },
  ],
});
const TRACKING = [JSON.stringify([0, 1, 2, 3].map((frame) => madeSample(frame, frame === 0 ? { static: ONCE } : {}))), [0, 1, 2].map((frame) => JSON.stringify(madeSample(frame))).join('\n')];
const SIDECAR = '<?xml version="1.0"?>\n<Clip xmlns="urn:x" xmlns:a="urn:a"><VideoFrame captureFps="23.98" a:x="1"/><Lens><FocalLength unit="mm">35</FocalLength><Focus_Distance>2.4 m</Focus_Distance></Lens><Slate>27B</Slate><Take>3</Take><Notes>clean &amp; dry &#233;</Notes></Clip>\n';
const MANIFEST = formatManifest(FULL);
const CHAIN = formatChain([{ sequence: 1, path: '0001_A017_2026-11-24_181500Z.mhl', c4: `c4${'1'.repeat(88)}` }]);
const CORRECTIONS = '- {kind: slate, clip: A003C012_261125_R7QK.mov, slate: 27B-3, who: R. Amsel, why: misread}\n- kind: sync\n  lead: a.mov\n  clip: b.mov\n  offset: -12\n  who: R. Amsel\n  why: hand clap\n';
const NOTE = 'clean plate for 27B, match to lead; swapped pass to follow. Sync 14:22:40:03 and playback, not for 27C';

const source = { kind: 'report', file: 'a.csv', place: 'line 2' } as const;
const forSlate = (text: string): unknown => (['forSlate', 'notes'] as const).map((field) => forSlateOf(sayByField([{ field, value: text, raw: text, source }]), undefined, SLATE_GRAMMAR, () => true));

const TARGETS: readonly Target[] = [
  { name: 'tables', parse: table, samples: [REPORT, REPORT.replaceAll(',', '\t'), SHOTS, MOVES] },
  { name: 'EDL', parse: (text) => parseEdl(text, { file: 'a.edl', rate: frameRate(24) }), samples: [EDL] },
  { name: 'OTIO', parse: (text) => parseOtio(text, { file: 'a.otio' }), samples: [OTIO] },
  { name: 'OpenTrackIO', parse: (text) => [looksLikeOpenTrackIo(utf8(text.slice(0, 60_000))), parseOpenTrackIo([{ file: 'a.json', text }])], samples: TRACKING },
  { name: 'XML sidecars', parse: (text) => { const { note, problems } = readSidecar(new FastXmlReader().parse(text), 'a.xml', mappings, headings); return [note.statements, problems]; }, samples: [SIDECAR], refusals: [UnreadableXmlError] },
  { name: 'hash lists', parse: (text) => parseManifest(new FastXmlReader({ lists: true }).parse(text), 'ascmhl/0001.mhl'), samples: [MANIFEST], refusals: [UnreadableXmlError] },
  { name: 'hash list chains', parse: (text) => parseChain(new FastXmlReader({ lists: true }).parse(text), 'ascmhl/chain.xml'), samples: [CHAIN], refusals: [UnreadableXmlError] },
  { longest: 12_000, name: 'YAML', parse: (text) => { const { mappings: _mappings, sensorModes: _modes, ...parsed } = parsePipeline(text, 'show.yaml', config); return parsed; }, samples: ['show: Saltmarsh Row\nmedia: [day03]\nbase_rate: 24000/1001\nhandles: {head: 8, tail: 8}\nmethods:\n  split: {description: plain, required: [lead, swapped, clean]}\nrole_words: {clean: [empty frame]}\nshot_code_patterns: ["@@@_###_####"]\n', shipped('pipelines/default.yaml').slice(0, 5000)], refusals: [UsageError] },
  { longest: 12_000, name: 'mappings', parse: (text) => parseMapping(text, 'm.yaml'), samples: ['name: example\nroot: Clip\nfields:\n  - {field: sensor_fps, path: VideoFrame@captureFps}\n  - {field: stop, path: Iris, reading: linear-iris, with: Mode}\n'], refusals: [UsageError] },
  { longest: 12_000, name: 'sensor modes', parse: (text) => parseSensorModes(text, 's.yaml'), samples: ['modes:\n  - {models: [Tern 6], mode: open gate, raster: [4448, 3096], area: [36.7, 25.54], source: data sheet}\n'], refusals: [UsageError] },
  { longest: 12_000, name: 'corrections', parse: (text) => parseCorrections(text, 'corrections.yaml'), samples: [CORRECTIONS] },
  { longest: 12_000, name: 'sheet templates', parse: (text) => parseSheetTemplate(text, 't.yaml'), samples: [shipped('templates/sheet.yaml')], refusals: [UsageError] },
  { name: 'shot.json', parse: parseShot, samples: plan.shots.map(({ file }) => formatShot(file)) },
  { name: 'turnover.json', parse: parseTurnover, samples: [formatTurnover(plan.turnover)] },
  { name: 'catalogue texts', parse: parseTagged, samples: ['{"notes":[{"value":{"~number":"Infinity"}},1,-0]}'] },
  { name: 'what ffprobe says', parse: json(parseProbe), samples: ['{"streams":[{"codec_type":"video","codec_name":"prores","width":4448,"height":3096,"r_frame_rate":"24000/1001","avg_frame_rate":"24000/1001","nb_frames":"240","duration":"10.01","tags":{"timecode":"14:22:33:04","reel_name":"A003"}}],"format":{"format_name":"mov,mp4","duration":"10.01","tags":{"creation_time":"2026-11-25T14:22:33Z"}}}'] },
  { name: 'what ExifTool says', parse: json(parseExiftoolTags), samples: ['{"QuickTime:FocalLength":35,"XML:LensModel":"Plover 35","EXIF:FNumber":2.8,"EXIF:ISO":800,"EXIF:ExposureTime":0.02083,"XMP:WhiteBalance":"5600 K","MXF:Scene":"27B"}'] },
  { name: 'slates', parse: (text) => [parseSlate(text, SLATE_GRAMMAR), parseTake(text.slice(0, 1000), SLATE_GRAMMAR), slateFromName(text.slice(0, 4000), SLATE_GRAMMAR)], samples: ['27B-SW-3 PU', 'A27C tk 4', 'slate 214 take 2', 'VFX27B-3', 'A003C012_27B-3_SW.mov'] },
  { name: 'role words', parse: (text) => [roles.named(text).length, roles.claimed(text).length], samples: [NOTE] },
  { name: 'for slate', parse: forSlate, samples: [NOTE, '27B and 31C', 'for 27B'] },
  { name: 'shot codes', parse: codes, samples: ['SMR_027_0010 comp v3', 's1-a 027'] },
  { name: 'timecode labels', parse: (text) => parseLabel(text, { base: 30, drop: true }), samples: ['14:22:33;04'], refusals: [TimecodeError] },
  { name: 'headings', parse: (text) => readHeading(text, headings), samples: ['Focal (mm)', 'Focus Distance [ft]', 'Tilt °', 'Height cm'] },
  { name: 'values', parse: (text) => FIELDS.map((field) => readField(field, text)), samples: ['35mm', 'T2.8 1/2', '12\'6"', '3.81 m', '5600K', '172.8°', '1/48', '23.976', '24000/1001', '59.94 DF', 'ND 0.6 + 1/4 BPM', '4448 x 3096', '14:22:33:04', '2.39:1'], growth: 400 },
  { name: 'file names', parse: (text) => { const names = text.slice(0, 8000).split('\n').map((name) => name.slice(0, 255)); return [groupSequences(names), names.map((name) => [nameStatements(name), pathFault(name)])]; }, samples: ['A003C012_261125_R7QK.mov', 'plate.1001.exr\nplate.1002.exr\nplate.-0003.exr\nplate.v02.1004.exr'] },
  { name: 'ignore pattern', parse: (text) => ignoresOf([text.slice(0, 60_000)])(`${'a/'.repeat(20)}b.tmp`, false), samples: ['*.tmp\\ ', '/a/**/b[!c-d]?', '!**/x/'] },
  { name: 'inert cell', parse: (text) => formatCsv([[text]]), samples: ['=cmd|x', '; =1'] },
];

describe.each(TARGETS)('any text as $name', ({ name, parse, samples, refusals, growth, longest }) => {
  const bounds = { ms: 3000, growth: growth ?? 100 };

  it('is read, or refused as documented, in bounded time and memory', async () => {
    for (const seed of [...samples, ...seedsOf(name)]) await survives(parse, seed, refusals, bounds);
    await fc.assert(fc.asyncProperty(spoiledText(samples, longest), async (text) => survives(parse, text, refusals, bounds)), runs(60));
    await fc.assert(fc.asyncProperty(pumpedText(samples, longest), async (text) => survives(parse, text, refusals, bounds)), runs(12));
  }, PATIENCE_MS);
});

describe('any bytes as text', () => {
  it('are letters, and XML or none', async () => {
    const samples = [utf8(SIDECAR), Uint8Array.from(`\uFEFF${SIDECAR}`.split('').flatMap((letter) => [letter.charCodeAt(0) & 0xff, letter.charCodeAt(0) >> 8])), utf8('<?xml version="1.0" encoding="utf-16"?><a/>')];
    const parse = (content: Uint8Array): unknown => [decodeText(content), new FastXmlReader().parse(content)];
    await fc.assert(fc.asyncProperty(spoiledBytes(samples), async (content) => survives(parse, content, [UnreadableXmlError])), runs(150));
  }, PATIENCE_MS);
});
