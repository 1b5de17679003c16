import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReadClip } from '../../../src/core/material/clip.ts';
import type { ClipNote, GroupedDay } from '../../../src/core/material/day.ts';
import { groupDay } from '../../../src/steps/group/group-day.ts';
import type { Facts } from '../../support/make-clips.ts';
import { groupRules, readClip, readDay, reportRow, sidecar } from '../../support/make-clips.ts';

interface Material {
  readonly clips: readonly ReadClip[];
  readonly notes: readonly ClipNote[];
}

const RULES = groupRules({ corrections: [{ kind: 'role', clip: 'A001C002.mov', role: 'clean', id: 'c1', who: 'R. Amsel', why: 'misread', from: 'corrections.yaml, line 3' }] });
const words = fc.constantFrom('lead', 'swapped', 'clean', 'reference', 'B side', undefined);
const noteTexts = fc.constantFrom('swap pass, sync to lead', 'for 27B', 'clean plate for 27C', 'no clean plate needed', 'good', 'lead and swap', undefined);
const cells = fc.record({
  slate: fc.constantFrom('27B-1', '27B-2', '27C-1', '27B-SW-1', '214/2', 'nonsense', undefined),
  pass: words,
  notes: noteTexts,
  tcIn: fc.constantFrom('10:00:00:00', '10:00:04:00', '10:00:00:99', undefined),
  camera: fc.constantFrom('A', 'b', undefined),
  ei: fc.constantFrom(400, 800, undefined),
  date: fc.constantFrom('2026-11-25', '2026-11-26', undefined),
});
const how = fc.constantFrom('file', 'numbers', 'slate', 'sidecar', 'none');

function known(facts: Readonly<Record<string, unknown>>): Facts {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as Facts;
}

const materials: fc.Arbitrary<Material> = fc
  .array(fc.record({ camera: fc.constantFrom('A', 'B'), folder: fc.constantFrom('', 'day1/', 'day2/27B_swap/'), embedded: cells, noted: cells, how, usable: fc.boolean() }), { maxLength: 12 })
  .map((rows) => {
    const clips: ReadClip[] = [];
    const notes: ClipNote[] = [];
    rows.forEach(({ camera, folder, embedded, noted, how: means, usable }, index) => {
      const base = `${camera}001C${String(Math.floor(index / 2)).padStart(3, '0')}`;
      const file = `${folder}${base}.mov`;
      if (clips.some((clip) => clip.file === file)) return;
      clips.push(readClip(file, known({ ...embedded, camera: undefined }), { usable: usable || index % 3 > 0 }));
      const facts = known(noted);
      if (means === 'file') notes.push(reportRow(index + 2, { ...facts, file: base }));
      if (means === 'numbers') notes.push(reportRow(index + 2, { ...facts, camera, roll: '1', clip: base.slice(-3) }));
      if (means === 'slate') notes.push(reportRow(index + 2, facts));
      if (means === 'sidecar') notes.push(sidecar(`${folder}${base}.xml`, facts));
    });
    return { clips, notes };
  });

function group({ clips, notes }: Material): GroupedDay {
  return groupDay(readDay({ clips, notes }), RULES);
}

const RUNS = { numRuns: 150 };

describe('grouping a day, whatever it holds', () => {
  it('does not depend on the order of clips and notes', () => {
    const shuffled = materials.chain(({ clips, notes }) =>
      fc.tuple(
        fc.constant({ clips, notes }),
        fc.shuffledSubarray([...clips], { minLength: clips.length }),
        fc.shuffledSubarray([...notes], { minLength: notes.length }),
      ),
    );
    fc.assert(fc.property(shuffled, ([material, clips, notes]) => {
      expect(group({ clips, notes })).toEqual(group(material));
    }), RUNS);
  });

  it('puts every clip into one set or none, and the sets hold the clips of the day', () => {
    fc.assert(
      fc.property(materials, (material) => {
        const day = group(material);
        const inSets = day.sets.flatMap(({ clips }) => clips);
        const ids = [...inSets.map(({ id }) => id), ...day.unplaced.map(({ clip }) => clip)].sort();
        expect(ids).toEqual(material.clips.map(({ file }) => file).sort());
        for (const clip of inSets) expect(day.clips).toContain(clip);
        expect(new Set(day.sets.map(({ id }) => id)).size).toBe(day.sets.length);
      }),
      RUNS,
    );
  });

  it('keeps every statement of a clip once, and uses every note or tells that it does not', () => {
    fc.assert(
      fc.property(materials, ({ clips, notes }) => {
        const day = group({ clips, notes });
        const kept = new Map(day.clips.map((clip) => [clip.id, clip.statements]));
        for (const { file, statements } of clips) {
          for (const statement of statements) expect(kept.get(file)?.filter((each) => each === statement)).toHaveLength(1);
        }
        const used = new Set([...kept.values()].flat());
        const told = day.findings.flatMap(({ evidence }) => evidence);
        for (const { file, place, statements } of notes) {
          const where = place === '' ? file : `${file}, ${place}`;
          const isTold = told.some((line) => line === where || line.startsWith(`${where}: `));
          if (statements.length > 0) expect(isTold).toBe(!statements.some((statement) => used.has(statement)));
        }
      }),
      RUNS,
    );
  });

  it('changes no other set when an unrelated set joins a day on which something names a pass', () => {
    const other: Material = {
      clips: ['A900C001', 'A900C002'].map((name) => readClip(`late/${name}.mov`)),
      notes: [reportRow(90, { file: 'A900C001', slate: '88X-1', pass: 'lead' }, 'late.csv'), reportRow(91, { file: 'A900C002', slate: '88X-2', pass: 'swapped' }, 'late.csv')],
    };
    const named: Material = { clips: [readClip('A800C001.mov', { slate: '77X-1', pass: 'lead' })], notes: [] };
    fc.assert(
      fc.property(materials, (material) => {
        const before = { clips: [...material.clips, ...named.clips], notes: material.notes };
        const after = { clips: [...before.clips, ...other.clips], notes: [...before.notes, ...other.notes] };
        const grouped = group(after);
        expect(grouped.sets.filter(({ id }) => id !== '88X-A')).toEqual(group(before).sets);
        expect(grouped.sets.map(({ id }) => id)).toContain('88X-A');
      }),
      RUNS,
    );
  });

  it('chooses the same sets and roles at any hour of the day', () => {
    fc.assert(
      fc.property(materials, fc.integer({ min: 1, max: 13 }), (material, hours) => {
        const shifted = JSON.parse(JSON.stringify(material).replaceAll('"10:00:0', `"${String(10 + hours).padStart(2, '0')}:00:0`)) as Material;
        const outline = ({ sets, unplaced }: GroupedDay) => ({ sets: sets.map(({ id, clips }) => [id, clips.map((clip) => [clip.id, clip.role])]), unplaced });
        expect(outline(group(shifted))).toEqual(outline(group(material)));
      }),
      RUNS,
    );
  });
});
