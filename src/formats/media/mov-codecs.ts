/**
 * Names of the picture codings by four-character code. The codes are those of ISO/IEC 14496-15, the MP4 registration
 * authority and the QuickTime File Format; ProRes codes as published in Apple's ProRes white paper.
 */
const CODECS: Readonly<Record<string, string>> = {
  ap4x: 'ProRes 4444 XQ',
  ap4h: 'ProRes 4444',
  apch: 'ProRes 422 HQ',
  apcn: 'ProRes 422',
  apcs: 'ProRes 422 LT',
  apco: 'ProRes 422 Proxy',
  aprn: 'ProRes RAW',
  aprh: 'ProRes RAW HQ',
  avc1: 'H.264',
  avc3: 'H.264',
  hvc1: 'H.265',
  hev1: 'H.265',
  av01: 'AV1',
  vp09: 'VP9',
  mp4v: 'MPEG-4',
  jpeg: 'Photo JPEG',
  mjpa: 'Motion JPEG A',
  mjpb: 'Motion JPEG B',
  'png ': 'PNG',
  AVdn: 'DNxHD',
  AVdh: 'DNxHR',
  CFHD: 'CineForm',
  'dvc ': 'DV',
  dvcp: 'DV',
  dvpp: 'DVCPRO 25',
  dv5n: 'DVCPRO 50',
  dv5p: 'DVCPRO 50',
  dvh5: 'DVCPRO HD',
  dvh6: 'DVCPRO HD',
  v210: 'uncompressed 4:2:2 10 bit',
  '2vuy': 'uncompressed 4:2:2 8 bit',
  v410: 'uncompressed 4:4:4 10 bit',
  r210: 'uncompressed RGB 10 bit',
  'raw ': 'uncompressed RGB 8 bit',
  'rle ': 'QuickTime Animation',
  mjp2: 'JPEG 2000',
};

/** A readable name for a four-character code; the code itself, in quotes, when it is not known here. */
export function codecName(code: string): string {
  return CODECS[code] ?? `"${code.trim()}"`;
}
