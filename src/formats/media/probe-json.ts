import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, frameRate, hasDropFrame, nominalBase, rateName, sameRate } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { parseLabel, parseLabelParts, TimecodeError, timecodeFormat } from '../../core/timecode/timecode.ts';
import type { Completeness, Container, FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, present, timecodeValues } from './media-facts.ts';
import { probeCodecName } from './probe-codecs.ts';
import { elements, member, numberMember, textMember } from './unknown-json.ts';

const PLACE = 'ffprobe, video stream';
/** ffprobe does not look whether a file ends too soon: a cut-off MXF looks whole to it. */
const UNVERIFIED: Completeness = { condition: 'unverified', complete: null, why: 'ffprobe cannot tell whether a file is whole' };
/** Demuxers of single pictures state 25 frames a second whatever the file says (measured with FFmpeg 5.1). */
const PICTURE_FORMAT = /(?:^|,)(?:image2|[a-z0-9]+_pipe)(?:,|$)/u;

/** What ffprobe says of a file, from its parsed `-print_format json -show_format -show_streams`. Nothing in it is trusted to be there. */
export function parseProbe(json: unknown): MediaFacts {
  const streams = elements(member(json, 'streams'));
  const format = member(json, 'format');
  const video = streams.find((stream) => member(stream, 'codec_type') === 'video' && numberMember(member(stream, 'disposition'), 'attached_pic') !== 1);
  if (video === undefined) return mediaFacts({ container: containerOf(format), completeness: { condition: 'unreadable', complete: false, why: 'ffprobe found no picture in it' }, values: [] });
  const problems: FoundProblem[] = [];
  const picture = PICTURE_FORMAT.test(textMember(format, 'format_name') ?? '');
  const rate = picture ? undefined : constantRate(video, problems);
  const tagged = [video, ...streams.filter((stream) => stream !== video), format].map((part) => member(part, 'tags'));
  const clock = clockOf(tagged, rate ?? undefined, problems);
  const reel = tagged.map((tags) => textMember(tags, 'reel_name')).find((name) => name !== undefined);
  const rotationDeg = rotationOf(video);
  return mediaFacts({
    container: containerOf(format),
    completeness: UNVERIFIED,
    values: [
      ...(rate === undefined ? [] : [found('fps', rate, formatRate(rate), PLACE)]),
      ...(picture ? [] : lengthValues(video, rate)),
      ...formatValues(video),
      ...clock.values,
      ...(reel === undefined ? [] : [found('reel', reel, reel, 'ffprobe, tag reel_name')]),
    ],
    texts: textsOf(tagged),
    problems,
    ...present({ timecode: clock.timecode, rotationDeg: rotationDeg === 0 ? undefined : rotationDeg }),
  });
}

function containerOf(format: unknown): Container {
  const name = textMember(format, 'format_name') ?? '';
  if (name.startsWith('mxf')) return 'mxf';
  if (!name.includes('mov')) return 'unknown';
  return (textMember(member(format, 'tags'), 'major_brand') ?? 'qt').startsWith('qt') ? 'mov' : 'mp4';
}

/** A rate as ffprobe writes it; "0/0" is its "unknown". */
function fraction(text: string | undefined): FrameRate | undefined {
  const [, num, den] = /^(\d{1,9})\/(\d{1,9})$/u.exec(text ?? '') ?? [];
  return num === undefined || den === undefined || Number(num) === 0 || Number(den) === 0 ? undefined : frameRate(Number(num), Number(den));
}

/** The stream's rate when its lowest common and its average agree; a variable rate is no rate. */
function constantRate(video: unknown, problems: FoundProblem[]): FrameRate | undefined {
  const base = fraction(textMember(video, 'r_frame_rate'));
  const average = fraction(textMember(video, 'avg_frame_rate'));
  if (base === undefined || average === undefined || sameRate(base, average)) return base ?? average;
  problems.push(doubtful(PLACE, `${rateName(average)} fps on average, ${rateName(base)} fps at the finest`, 'a constant frame rate'));
  return undefined;
}

/** `nb_frames` is absent for MXF: then the length in seconds times the rate, when that is a whole number of frames. */
function lengthValues(video: unknown, rate: FrameRate | undefined): FoundValue[] {
  const counted = numberMember(video, 'nb_frames');
  if (counted !== undefined && Number.isSafeInteger(counted) && counted > 0) return [found('frames', counted, String(counted), PLACE)];
  const ticks = numberMember(video, 'duration_ts');
  const tick = fraction(textMember(video, 'time_base'));
  if (ticks === undefined || tick === undefined || rate === undefined) return [];
  const frames = (ticks * tick.num * rate.num) / (tick.den * rate.den);
  const whole = Math.round(frames);
  return whole > 0 && Math.abs(frames - whole) < 0.01 ? [found('frames', whole, `${ticks} ticks`, `${PLACE}, duration`)] : [];
}

function formatValues(video: unknown): FoundValue[] {
  const width = numberMember(video, 'width') ?? 0;
  const height = numberMember(video, 'height') ?? 0;
  const codec = probeCodecName(textMember(video, 'codec_name'), textMember(video, 'profile'), textMember(video, 'codec_long_name'));
  return [
    ...(width > 0 && height > 0 ? [found('raster', { width, height }, `${width}x${height}`, PLACE)] : []),
    ...(codec === undefined ? [] : [found('codec', codec, textMember(video, 'codec_name') ?? codec, PLACE)]),
  ];
}

/** The timecode tag of the video stream, else of another stream, else of the file. */
function clockOf(tagged: readonly unknown[], rate: FrameRate | undefined, problems: FoundProblem[]): { values: FoundValue[]; timecode?: Timecode } {
  const label = tagged.map((tags) => textMember(tags, 'timecode')).find((text) => text !== undefined);
  if (label === undefined) return { values: [] };
  const place = 'ffprobe, tag timecode';
  if (rate === undefined || nominalBase(rate) === 0) return { values: [found('tcIn', label, label, place)] };
  try {
    const drop = parseLabelParts(label).separatorDrop;
    const timecode = parseLabel(label, timecodeFormat(rate, drop && hasDropFrame(rate)));
    // The rate its labels count at is not in ffprobe's answer: the file's is only an assumption, so it is not stated.
    return { values: timecodeValues(timecode, place, undefined), timecode };
  } catch (error) {
    if (!(error instanceof TimecodeError)) throw error;
    problems.push(doubtful(place, `timecode ${label}`, error.reason));
    return { values: [] };
  }
}

/** Degrees clockwise; ffprobe counts the display matrix counter-clockwise. */
function rotationOf(video: unknown): number {
  const side = elements(member(video, 'side_data_list')).map((data) => numberMember(data, 'rotation')).find((turn) => turn !== undefined);
  return side === undefined ? 0 : (((-side % 360) + 360) % 360);
}

/** Tags that say how the file was written, not what was shot. */
const TECHNICAL = /^(?:timecode|reel_name|encoder|handler_name|vendor_id|language|major_brand|minor_version|compatible_brands|.*(?:_?uid|umid|_ul|version|version_num|platform))$/u;

function textsOf(tagged: readonly unknown[]): FoundText[] {
  return tagged.flatMap((tags) =>
    typeof tags === 'object' && tags !== null
      ? Object.entries(tags).flatMap(([name, text]) => (typeof text === 'string' && !TECHNICAL.test(name) ? [{ name, text, place: `ffprobe, tag ${name}` }] : []))
      : [],
  );
}
