import type { Acquisition } from './acquisition.ts';
import { acquisitionOf } from './acquisition.ts';
import type { Reader } from './byte-source.ts';
import type { Klv } from './mxf-klv.ts';
import { isFill, klvAt } from './mxf-klv.ts';
import type { Partition } from './mxf-partition.ts';

/** Packets looked at behind the header: one picture with its sound and data, and what may stand before it. */
const MAX_PACKETS = 40;
const MAX_DATA_BYTES = 32 * 1024;
/** Essence elements (ST 379-2): byte 13 is the kind of item. */
const ELEMENT = /^060e2b34010201..0d010301(..)/u;
const PICTURES = new Set(['05', '15']);
const DATA = new Set(['07', '17']);
/** The system item's own metadata sets (ST 385) and essence elements of the data kind carry what the camera recorded. */
const SYSTEM = /^060e2b34(?:0205|0243|0253)0101(?:0d010301(?:04|14)|0c02)/u;

/** Acquisition metadata that travels with the first picture: in its data elements (ST 436) or system items. */
export async function firstAcquisition(reader: Reader, header: Partition): Promise<Acquisition> {
  const carriers = await carriersOf(reader, header);
  const parts: Acquisition[] = [];
  for (const { start, end } of carriers) {
    const bytes = await reader.peek(start, Math.min(end - start, MAX_DATA_BYTES, reader.size - start));
    parts.push(acquisitionOf(bytes, 'data of the first picture'));
  }
  return { values: parts.flatMap(({ values }) => values), texts: parts.flatMap(({ texts }) => texts) };
}

/** Walks the packets of the first picture, skipping the big ones, and stops where the second begins. */
async function carriersOf(reader: Reader, header: Partition): Promise<Klv[]> {
  const carriers: Klv[] = [];
  const next = await klvAt(reader, header.pack.end);
  // Filler behind the pack is not counted among the header bytes.
  let at = (next !== undefined && isFill(next.key) ? next.end : header.pack.end) + header.headerBytes + header.indexBytes;
  let pictures = 0;
  for (let packets = 0; packets < MAX_PACKETS; packets++) {
    const klv = await klvAt(reader, at);
    if (klv === undefined) break;
    const kind = ELEMENT.exec(klv.key)?.[1] ?? '';
    if (PICTURES.has(kind) && ++pictures > 1) break;
    if (DATA.has(kind) || SYSTEM.test(klv.key)) carriers.push(klv);
    at = klv.end;
  }
  return carriers;
}
