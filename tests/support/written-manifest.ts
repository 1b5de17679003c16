import { FastXmlReader } from '../../src/adapters/xml/fast-xml-reader.ts';
import { formatManifest } from '../../src/formats/mhl/format-manifest.ts';
import type { Manifest } from '../../src/formats/mhl/manifest.ts';
import type { ParsedManifest } from '../../src/formats/mhl/parse-manifest.ts';
import { parseManifest } from '../../src/formats/mhl/parse-manifest.ts';

/** A manifest with everything in it, of an invented day. */
export const FULL: Manifest = {
  created: '2026-11-24T18:15:00Z',
  hostname: 'cart-1',
  tool: { name: 'gemel', version: '0.1.0' },
  authors: [{ name: 'M. Okafor', email: 'okafor@saltmarsh.example', phone: '+1 555 0100', role: 'DIT' }, { name: 'J. Lindqvist' }],
  location: 'Stage 4',
  comment: 'first copy, "A" & <B>',
  process: 'in-place',
  root: { content: { xxh64: '4c226b42e27d7af3' }, structure: { xxh64: '906faa843d591a9f' } },
  ignore: ['.DS_Store', 'ascmhl', 'ascmhl/', '*.tmp\\ '],
  records: [
    { kind: 'folder', path: 'Lead', modified: '2026-11-24T17:00:00Z', content: { xxh64: 'bb66ab7634488712' }, structure: { xxh64: '490836322fa160b0' } },
    {
      kind: 'file', path: 'Lead/A017C003.mov', sizeBytes: 12, modified: '2026-11-24T17:00:00Z',
      digests: [
        { format: 'md5', value: '0cc175b9c0f1b6a831c399e269772661', action: 'original', date: '2026-11-24T18:15:01Z' },
        { format: 'xxh64', value: '7688622e8beba8a4', action: 'verified' },
      ],
      previousPath: 'Lead/ A & <B> "é".mov ',
    },
    { kind: 'file', path: 'Lead/a]]>b\tc.txt', digests: [{ format: 'c4', value: `c4${'1'.repeat(88)}`, action: 'failed' }] },
  ],
  references: [{ path: 'A017/ascmhl/0001_A017_2026-11-24_181500Z.mhl', c4: `c4${'1'.repeat(88)}` }],
};

const reader = new FastXmlReader({ lists: true });

/** A manifest read from its text, as it would be from a file. */
export function readBack(text: string): ParsedManifest {
  return parseManifest(reader.parse(text), 'ascmhl/0001.mhl');
}

/** A plain valid manifest of two files, for tests to spoil: `spoil` gets its text. */
export function spoiled(spoil: (text: string) => string): string {
  const plain: Manifest = {
    created: '2026-11-24T18:15:00Z', hostname: 'cart-1', tool: { name: 'gemel' }, authors: [], process: 'transfer', ignore: ['.DS_Store'], references: [],
    records: ['Lead/one.txt', 'Swapped/two.txt'].map((path) => ({ kind: 'file', path, sizeBytes: 12, digests: [{ format: 'xxh64', value: '7688622e8beba8a4', action: 'original' }] })),
  };
  const text = formatManifest(plain);
  const other = spoil(text);
  if (other === text) throw new Error('nothing was spoiled');
  return other;
}

