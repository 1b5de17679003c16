import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FINDING_CODES } from '../../../src/core/material/finding.ts';
import { defaultConfig } from '../../support/default-config.ts';

const PAGE = readFileSync(new URL('../../../docs/findings.md', import.meta.url), 'utf8');

/** Rows of the tables of codes, by the heading they stand under, lower case. */
function documented(): ReadonlyMap<string, readonly string[]> {
  const sections = PAGE.split(/^## /m).slice(1);
  return new Map(
    sections.map((section) => {
      const [heading = ''] = section.split('\n');
      return [heading.trim().toLowerCase(), [...section.matchAll(/^\| `([a-z-]+)` \|/gm)].map(([, code = '']) => code)];
    }),
  );
}

describe('the page about findings', () => {
  it.each(Object.entries(FINDING_CODES))('explains each code of the group %s, in their order, and no other', (group, codes) => {
    expect(documented().get(group)).toEqual([...codes]);
  });

  it('says of every code what it means, how bad it is and what to do', () => {
    const rows = PAGE.split('\n').filter((line) => /^\| `(?!stop`|warn`|note`)[a-z-]+` \|/.test(line));
    expect(rows).toHaveLength(Object.values(FINDING_CODES).flat().length);
    for (const row of rows) expect(row.split('|').slice(1, -1).map((cell) => cell.trim()).filter((cell) => cell !== '')).toHaveLength(4);
  });

  it('names only tolerances that the pipeline file has', () => {
    const keys = Object.keys(defaultConfig().tolerances).map((key) => key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`));
    const named = [...PAGE.matchAll(/`([a-z]+(?:_[a-z]+)*_(?:px|stops|percent|dioptre|deg|mm|k))`/g)].map(([, key]) => key);
    expect(named.length).toBeGreaterThan(15);
    for (const key of named) expect(keys).toContain(key);
  });
});
