const START = 0xd8;
const END = 0xd9;
const SCAN = 0xda;

/** The JPEG pictures of a stream in which they follow each other (ITU-T T.81, annex B). A last one that is cut off is left out. */
export function splitJpegs(stream: Uint8Array): readonly Uint8Array[] {
  const pictures: Uint8Array[] = [];
  let start = 0;
  while (stream[start] === 0xff && stream[start + 1] === START) {
    const end = endOfPicture(stream, start + 2);
    if (end === undefined) break;
    pictures.push(stream.subarray(start, end));
    start = end;
  }
  return pictures;
}

/** Walks the segments by their lengths, for inside one the bytes of an end mark may stand by chance; in picture data they cannot. */
function endOfPicture(stream: Uint8Array, from: number): number | undefined {
  let at = from;
  while (at + 1 < stream.length) {
    const marker = stream[at + 1] ?? 0;
    if (stream[at] !== 0xff) return undefined;
    if (marker === END) return at + 2;
    at += 2 + (((stream[at + 2] ?? 0) << 8) | (stream[at + 3] ?? 0));
    if (marker === SCAN) at = nextMarker(stream, at);
  }
  return undefined;
}

/** The next marker after picture data, where FF 00 is a plain FF and FF D0 to FF D7 are restarts. */
function nextMarker(stream: Uint8Array, from: number): number {
  for (let at = from; at + 1 < stream.length; at++) {
    const next = stream[at + 1] ?? 0;
    if (stream[at] === 0xff && next !== 0 && (next < 0xd0 || next > 0xd7)) return at;
  }
  return stream.length;
}
