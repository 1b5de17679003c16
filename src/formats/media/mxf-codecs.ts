/**
 * Picture codings by label, from byte 9 on (the version byte before it differs from writer to writer). Labels of the SMPTE
 * register (RP 224) and of RDD 44 (ProRes); the longest beginning that fits wins.
 */
const CODINGS: readonly (readonly [label: string, name: string])[] = [
  ['0401020201', 'MPEG-2'],
  ['040102020120', 'MPEG-4'],
  ['040102020131', 'H.264'],
  ['040102020132', 'H.264 intra'],
  ['0401020202', 'DV'],
  ['040102020301', 'JPEG 2000'],
  ['040102020302', 'DNxHD'],
  ['0401020271', 'DNxHD'],
  ['040102027124', 'DNxHR'],
  ['040102027125', 'DNxHR'],
  ['040102027126', 'DNxHR'],
  ['040102027127', 'DNxHR'],
  ['040102027128', 'DNxHR'],
  ['0e04020102', 'DNxHD'],
  ['040102020306', 'ProRes'],
  ['04010202030601', 'ProRes 422 Proxy'],
  ['04010202030602', 'ProRes 422 LT'],
  ['04010202030603', 'ProRes 422'],
  ['04010202030604', 'ProRes 422 HQ'],
  ['04010202030605', 'ProRes 4444'],
  ['04010202030606', 'ProRes 4444 XQ'],
  ['04010201', 'uncompressed'],
];

/** Essence containers by byte 14 of their label (ST 379-2 mappings), for files that name no picture coding. */
const CONTAINERS: Readonly<Record<string, string>> = {
  '01': 'MPEG-2',
  '02': 'DV',
  '04': 'MPEG-2',
  '05': 'uncompressed',
  '0c': 'JPEG 2000',
  '10': 'H.264',
  '11': 'DNxHD',
  '1c': 'ProRes',
};

/** Name of a picture coding label (hex), or undefined when it is not one of these. */
export function pictureCodingName(label: string): string | undefined {
  const fitting = CODINGS.filter(([start]) => label.slice(16).startsWith(start));
  return fitting.toSorted((a, b) => b[0].length - a[0].length)[0]?.[1];
}

/** Name of the coding an essence container label (hex) implies, or undefined. */
export function containerCodingName(label: string): string | undefined {
  return label.slice(16).startsWith('0d01030102') ? CONTAINERS[label.slice(26, 28)] : undefined;
}

const ITEM_COMPLEXITY: Readonly<Record<string, string>> = { '01': '1', '02': '2', '03': '3' };
const PACKAGE_COMPLEXITY: Readonly<Record<string, string>> = { '01': 'a', '02': 'b', '03': 'c' };

/** `OP1a`, `OP2b`, `OP-Atom`, or the label itself when it is neither (ST 377-1, 8; ST 390). */
export function operationalPatternName(label: string): string {
  const item = label.slice(24, 26);
  if (label.slice(16, 24) === '0d010201' && item === '10') return 'OP-Atom';
  const number = ITEM_COMPLEXITY[item];
  const letter = PACKAGE_COMPLEXITY[label.slice(26, 28)];
  return number === undefined || letter === undefined ? label : `OP${number}${letter}`;
}
