/** FFmpeg's codec names in the words the header readers use, so that two sources of one fact agree. */
const NAMES: Readonly<Record<string, string>> = {
  h264: 'H.264',
  hevc: 'H.265',
  av1: 'AV1',
  vp9: 'VP9',
  mpeg4: 'MPEG-4',
  mpeg2video: 'MPEG-2',
  mjpeg: 'Photo JPEG',
  jpeg2000: 'JPEG 2000',
  dnxhd: 'DNxHD',
  cfhd: 'CineForm',
  png: 'PNG',
  qtrle: 'QuickTime Animation',
  dvvideo: 'DV',
  v210: 'uncompressed 4:2:2 10 bit',
};
const PRORES: Readonly<Record<string, string>> = {
  Proxy: 'ProRes 422 Proxy',
  LT: 'ProRes 422 LT',
  Standard: 'ProRes 422',
  HQ: 'ProRes 422 HQ',
  4444: 'ProRes 4444',
  XQ: 'ProRes 4444 XQ',
};

/** A readable name from ffprobe's codec name, profile and long name; undefined when it names none. */
export function probeCodecName(codec: string | undefined, profile: string | undefined, longName: string | undefined): string | undefined {
  if (codec === 'prores') return PRORES[profile ?? ''] ?? 'ProRes';
  if (codec === 'dnxhd' && profile?.startsWith('DNXHR') === true) return 'DNxHR';
  return codec === undefined ? longName : (NAMES[codec] ?? longName ?? codec);
}
