import { describe, expect, it } from 'vitest';
import { FastXmlReader } from '../../../src/adapters/xml/fast-xml-reader.ts';
import { UnreadableXmlError } from '../../../src/core/material/errors.ts';

const reader = new FastXmlReader();

describe('reading XML sidecars', () => {
  it('gives local names, attributes, children in order and trimmed text', () => {
    const text = '<?xml version="1.0"?><n:Clip xmlns:n="urn:x" xmlns="urn:y" n:roll="0012" take="1e5"><Lens> 35 mm </Lens><Tilt/><Lens/></n:Clip>';
    expect(reader.parse(text)).toEqual({
      name: 'Clip',
      attributes: { roll: '0012', take: '1e5' },
      children: [
        { name: 'Lens', attributes: {}, children: [], text: '35 mm' },
        { name: 'Tilt', attributes: {}, children: [], text: '' },
        { name: 'Lens', attributes: {}, children: [], text: '' },
      ],
      text: '',
    });
  });

  it('leaves values as they are written: "0012", "1e5", "true" and " " are text (XML 1.0 knows no other kind)', () => {
    expect(reader.parse('<a><b>0012</b><b>1e5</b><b>true</b><b> </b></a>').children.map(({ text }) => text)).toEqual(['0012', '1e5', 'true', '']);
  });

  it('decodes character references and CDATA (XML 1.0, sections 4.1 and 2.7)', () => {
    expect(reader.parse('<a q="&#34;&amp;&#xE9;">caf&#233; &lt;<![CDATA[<b>&amp;]]></a>')).toMatchObject({ attributes: { q: '"&é' }, text: 'café <<b>&amp;' });
  });

  it('reads more references than a bomb guard would let pass', () => {
    expect(reader.parse(`<a>${'&amp;'.repeat(5000)}</a>`).text).toHaveLength(5000);
  });

  it.each([
    ['before the root', '<!DOCTYPE a [<!ENTITY b "bbbb"><!ENTITY c "&b;&b;&b;">]><a>&c;</a>'],
    ['without entities', '<!doctype a><a/>'],
    ['inside the root', '<a><!DOCTYPE a [<!ENTITY x "y">]>&x;</a>'],
    ['naming a file', '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/hostname">]><a>&x;</a>'],
  ])('refuses a document type %s', (_where, text) => {
    expect(() => reader.parse(text)).toThrow('document type (DOCTYPE)');
  });

  it.each([
    ['<a><b></a>', "line 1: Expected closing tag 'b'"],
    ['<a>\n<b>\n', 'it was cut off'],
    ['<a>\n\n<b></c></a>', 'line 3'],
    ['', 'Start tag expected'],
    ['hello', 'is not expected'],
    ['<a/><b/>', '2 root elements'],
    ['<a x=1/>', 'line 1'],
    ['<a x="1" x="2"/>', "line 1: Attribute 'x' is repeated"],
    ['<__proto__ a="1"/>', 'prototype'],
  ])('refuses %j with the reason', (text, reason) => {
    expect(() => reader.parse(text)).toThrow(UnreadableXmlError);
    expect(() => reader.parse(text)).toThrow(reason);
  });

  it('refuses what is too deep or too much, without spending long on it', () => {
    expect(() => reader.parse('<a>'.repeat(200) + '</a>'.repeat(200))).toThrow('nested');
    expect(() => reader.parse(`<a>${'<b/>'.repeat(100_001)}</a>`)).toThrow('more than 100000 elements');
  });

  it('reads bytes by their mark, by their declaration and as UTF-8 otherwise', () => {
    const utf16 = Buffer.from('\uFEFF<?xml version="1.0" encoding="UTF-16"?><a>é</a>', 'utf16le');
    const latin = Buffer.from('<?xml version="1.0" encoding="ISO-8859-1"?><a>é</a>', 'latin1');
    const marked = Buffer.from('\uFEFF<a>é</a>');
    for (const bytes of [utf16, Buffer.from(utf16).swap16(), utf16.subarray(2), latin, marked, marked.subarray(3)]) {
      expect(reader.parse(new Uint8Array(bytes)).text).toBe('é');
    }
    expect(() => reader.parse(Buffer.from('<a>é</a>', 'latin1'))).toThrow('not text in the encoding utf-8');
  });
});
