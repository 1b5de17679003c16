import { describe, expect, it } from 'vitest';
import type { XmlElement } from '../../../src/formats/sidecars/xml-element.ts';
import { everyElement, findInXml } from '../../../src/formats/sidecars/xml-path.ts';
import { element } from './element.ts';

const root = element('Day', {}, [
  element('Clip', { name: 'one' }, [element('TapeName', {}, [], 'A003'), element('Item', { name: 'Shutter', value: '180' })]),
  element('Clip', { name: 'two' }, [element('TapeName', {}, [], 'A004'), element('Item', { name: 'ISO', value: '800' })]),
]);

describe('a path into an XML tree', () => {
  it.each([
    ['Clip@name', ['one', 'two']],
    ['Clip/TapeName', ['A003', 'A004']],
    ['TapeName', ['A003', 'A004']],
    ['Item[name=ISO]@value', ['800']],
    ['Clip[name=two]/TapeName', ['A004']],
    ['Clip[name=two]/Item[name=ISO]@value', ['800']],
    ['Day/Clip@name', ['one', 'two']],
    ['Day/TapeName', []],
    ['Clip@serial', []],
    ['Clip@toString', []],
    ['Roll', []],
    ['', []],
  ])('%s', (path, texts) => {
    expect(findInXml(root, path)).toEqual(texts);
  });

  it('walks a very deep tree', () => {
    let deep: XmlElement = element('Leaf', {}, [], 'here');
    for (let depth = 0; depth < 100_000; depth += 1) deep = element('Level', {}, [deep]);
    expect(findInXml(deep, 'Leaf')).toEqual(['here']);
    expect(everyElement(deep)).toHaveLength(100_001);
  });
});
