import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FastXmlReader } from '../../../src/adapters/xml/fast-xml-reader.ts';
import { formatChain, formatManifest, manifestName } from '../../../src/formats/mhl/format-manifest.ts';
import type { ChainEntry } from '../../../src/formats/mhl/manifest.ts';
import { parseChain } from '../../../src/formats/mhl/parse-chain.ts';
import { pathFault } from '../../../src/formats/mhl/safe-path.ts';
import { chainSchemaErrors, manifestSchemaErrors } from '../../support/mhl-schema.ts';
import { FULL, readBack, spoiled } from '../../support/written-manifest.ts';

const reader = new FastXmlReader({ lists: true });
const C4 = `c4${'1'.repeat(88)}`;

describe('a manifest as it is written', () => {
  it('is valid by the schema of ASC MHL 2.0', async () => {
    const { records, ...rest } = FULL;
    expect(await manifestSchemaErrors(formatManifest(FULL))).toEqual([]);
    expect(await manifestSchemaErrors(formatManifest({ ...rest, records, root: { content: {}, structure: {} }, ignore: [] }))).toEqual([]);
  });

  it('reads back to what was written, every space and sign of its paths kept', () => {
    const { manifest, problems } = readBack(formatManifest({ ...FULL, records: FULL.records.slice(0, 2) }));
    expect(problems).toEqual([]);
    expect(manifest).toEqual({ ...FULL, records: FULL.records.slice(0, 2) });
  });

  it('reads back any path that may be written at all', () => {
    const path = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 40 }).filter((text) => pathFault(text) === undefined);
    fc.assert(
      fc.property(path, (text) => {
        const { manifest, problems } = readBack(formatManifest({ ...FULL, records: [{ kind: 'file', path: text, digests: [{ format: 'xxh64', value: '7688622e8beba8a4', action: 'original' }] }] }));
        expect(problems).toEqual([]);
        expect(manifest?.records[0]?.path).toBe(text);
      }),
    );
  });

  it('reads under any prefix of its namespace', () => {
    const prefixed = formatManifest(FULL).replace(/<(\/?)(?=[a-zA-Z])/g, '<$1m:').replace('xmlns=', 'xmlns:m=');
    expect(readBack(prefixed).manifest?.records).toHaveLength(2);
  });

  it('is named for its number, folder and time in UTC, and for nothing a system cannot have in a name', () => {
    expect(manifestName(1, 'A017_T6WD', '2026-11-24T18:15:00Z')).toBe('0001_A017_T6WD_2026-11-24_181500Z.mhl');
    expect(manifestName(12345, 'a:b/c', '2026-11-24T18:15:00Z')).toBe('12345_a_b_c_2026-11-24_181500Z.mhl');
  });
});

/** A manifest spoiled in one place: what the schema says of it, and what the text of the standard asks for. */
const CASES: readonly (readonly [what: string, spoil: (text: string) => string, schema: 'valid' | 'invalid', severity: 'stop' | 'warn' | undefined, found: RegExp])[] = [
  // The schema refuses these as well.
  ['an action that does not exist', (text) => text.replace('"original"', '"new"'), 'invalid', 'stop', /action "new"/],
  ['an empty list of hashes', (text) => text.replace(/<hashes>[^]*<\/hashes>/, '<hashes></hashes>'), 'invalid', 'warn', /no entry/],
  ['digests out of order', (text) => text.replace('</xxh64>', `</xxh64><md5 action="original">${'a'.repeat(32)}</md5>`), 'invalid', 'warn', /md5 after xxh64/],
  ['metadata before the hashes', (text) => text.replace('<hashes>', '<metadata>x</metadata><hashes>'), 'invalid', 'warn', /hashes after metadata/],
  ['an ignore element without a pattern', (text) => text.replace(/<ignore>[^]*<\/ignore>/, '<ignore></ignore>'), 'invalid', 'warn', /no pattern/],
  ['the previous path before the digest', (text) => text.replace('<xxh64', '<previousPath>a</previousPath><xxh64'), 'invalid', 'warn', /xxh64 after previousPath/],
  ['another version', (text) => text.replace('version="2.0"', 'version="1.0"'), 'invalid', 'stop', /version "1.0"/],
  ['no version', (text) => text.replace(' version="2.0"', ''), 'invalid', 'stop', /no version/],
  ['another namespace', (text) => text.replace('urn:ASC:MHL:v2.0', 'urn:ASC:MHL:v1.0'), 'invalid', 'stop', /v1\.0/],
  ['a format that does not exist', (text) => text.replaceAll('xxh64', 'xxh32'), 'invalid', 'stop', /no digest in a format of the standard/],
  ['a process that does not exist', (text) => text.replace('>transfer<', '>copied<'), 'invalid', 'stop', /process "copied"/],
  ['no time of creation', (text) => text.replace(/<creationdate>.*<\/creationdate>/, ''), 'invalid', 'stop', /no creationdate/],
  ['a time that is none', (text) => text.replace('T18:15:00Z', ' quarter past six'), 'invalid', 'warn', /creationdate "2026/],
  ['a size that is no number', (text) => text.replace('size="12"', 'size="twelve"'), 'invalid', 'stop', /size "twelve"/],
  ['no processinfo', (text) => text.replace(/<processinfo>[^]*<\/processinfo>/, ''), 'invalid', 'stop', /no processinfo/],
  ['two paths in one entry', (text) => text.replace('<path', '<path>x</path><path'), 'invalid', 'stop', /path twice/],
  ['an element nobody knows', (text) => text.replace('<hashes>', '<mood>good</mood><hashes>'), 'invalid', 'warn', /element mood/],
  // The schema lets these through; the text does not.
  ['a path that climbs out', (text) => text.replace('>Lead/one.txt', '>../Lead/one.txt'), 'valid', 'stop', /climbs out/],
  ['a path that begins at the root', (text) => text.replace('>Lead/one.txt', '>/etc/passwd'), 'valid', 'stop', /absolute/],
  ['a path with a drive letter', (text) => text.replace('>Lead/one.txt', '>C:/one.txt'), 'valid', 'stop', /drive letter/],
  ['a path with back-slashes', (text) => text.replace('>Lead/one.txt', '>Lead\\one.txt'), 'valid', 'stop', /back-slash/],
  ['a path that is not in its shortest form', (text) => text.replace('>Lead/one.txt', '>Lead/./one.txt'), 'valid', 'stop', /shortest form/],
  ['a path given twice', (text) => text.replace('>Swapped/two.txt', '>Lead/one.txt'), 'valid', 'stop', /second entry/],
  ['a digest without an action', (text) => text.replace(' action="original"', ''), 'valid', 'stop', /without an action/],
  ['an entry without a digest', (text) => text.replace(/<xxh64.*<\/xxh64>/, ''), 'valid', 'stop', /no digest/],
  ['neither hashes nor references', (text) => text.replace(/<hashes>[^]*<\/hashes>/, ''), 'valid', 'stop', /neither hashes nor references/],
  ['a size below zero', (text) => text.replace('size="12"', 'size="-5"'), 'valid', 'stop', /size "-5"/],
  ['a digest in capitals', (text) => text.replace('7688622e8beba8a4', '7688622E8BEBA8A4'), 'valid', 'stop', /7688622E8BEBA8A4/],
  ['a digest that is too short', (text) => text.replace('7688622e8beba8a4', '7688622e'), 'valid', 'stop', /"7688622e"/],
  // Nothing wrong with these.
  ['metadata after the hashes', (text) => text.replace('</hashes>', '</hashes><metadata a="b"><x/>y</metadata>'), 'valid', undefined, /^$/],
  ['the attribute left over in the schema', (text) => text.replace(' action=', ' structure="zz" action='), 'valid', undefined, /^$/],
  ['no size', (text) => text.replace(' size="12"', ''), 'valid', undefined, /^$/],
  ['a time without a zone', (text) => text.replace('18:15:00Z', '18:15:00'), 'valid', undefined, /^$/],
];

describe('a manifest with one thing wrong', () => {
  it.each(CASES)('%s is judged by the text of the standard, also where the schema is laxer', async (_what, spoil, schema, severity, found) => {
    const text = spoiled(spoil);
    expect((await manifestSchemaErrors(text)).length === 0 ? 'valid' : 'invalid').toBe(schema);
    const { problems } = readBack(text);
    expect(problems.map((problem) => problem.severity).toSorted().at(0)).toBe(severity);
    if (severity !== undefined) expect(problems.map((problem) => problem.found).join('; ')).toMatch(found);
    for (const problem of problems) expect([problem.file, problem.remedy === '' || problem.expected === '']).toEqual(['ascmhl/0001.mhl', false]);
  });

  it('never keeps a path that leads out', () => {
    const { manifest } = readBack(spoiled((text) => text.replace('>Lead/one.txt', '>../../etc/passwd')));
    expect(manifest?.records.map(({ path }) => path)).toEqual(['Swapped/two.txt']);
  });

  it('says the place, and shows a stranger\'s text without what a terminal would obey', () => {
    const { problems } = readBack(spoiled((text) => text.replace('>Lead/one.txt', '>Lead/\u202Eone.txt').replace('"12"', '"-1"')));
    expect(problems).toEqual([
      expect.objectContaining({ code: 'manifest-invalid', place: 'entry 1, "Lead/\uFFFDone.txt"', found: 'size "-1"' }),
    ]);
  });
});

describe('a chain', () => {
  const entries: readonly ChainEntry[] = [1, 2, 3].map((sequence) => ({ sequence, path: `000${sequence}_Day_2026-11-24_181500Z.mhl`, c4: C4 }));
  const parse = (text: string): ReturnType<typeof parseChain> => parseChain(reader.parse(text), 'ascmhl/ascmhl_chain.xml');

  it('is valid by the schema as it is written, and reads back', async () => {
    const text = formatChain(entries.toReversed());
    expect(await chainSchemaErrors(text)).toEqual([]);
    expect(parse(text)).toEqual({ entries, problems: [] });
  });

  it.each([
    ['without a number', (text: string) => text.replace(' sequencenr="2"', ''), /no sequencenr/],
    ['with a number twice', (text: string) => text.replace('sequencenr="2"', 'sequencenr="1"'), /1, 1, 3/],
    ['with a hole', (text: string) => text.replace('sequencenr="3"', 'sequencenr="4"'), /1, 2, 4/],
    ['that begins at 0', (text: string) => text.replace('sequencenr="1"', 'sequencenr="0"'), /0, 2, 3/],
    ['that lists a manifest twice', (text: string) => text.replace('0002_Day', '0001_Day'), /listed twice/],
    ['that leads out of its folder', (text: string) => text.replace('>0002_Day', '>../0002_Day'), /climbs out/],
    ['that leads into another folder', (text: string) => text.replace('>0002_Day', '>deep/0002_Day'), /deep/],
    ['with a digest that is none', (text: string) => text.replace(C4, C4.slice(0, 40)), /c4 "c41111/],
  ])('%s is invalid, though the schema lets it through', async (_what, spoil, found) => {
    const text = spoil(formatChain(entries));
    expect(await chainSchemaErrors(text)).toEqual([]);
    const { problems } = parse(text);
    expect(problems.map((problem) => problem.found).join('; ')).toMatch(found);
    expect(problems.every(({ severity }) => severity === 'stop')).toBe(true);
  });
});
