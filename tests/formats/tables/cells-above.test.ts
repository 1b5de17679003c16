import { describe, expect, it } from 'vitest';
import type { Field } from '../../../src/core/material/statement.ts';
import { read, said, warnings } from './read.ts';

/** What each row says of a field, "" where it says nothing. */
function column(text: string, field: Field): readonly string[] {
  return read(text).notes.map(({ statements }) => said(statements, field).map(String).join());
}

describe('ditto marks (common practice, no source)', () => {
  it.each(['""""', '"\'\'"', "''", '〃', 'do', 'do.', 'Ditto', '”', '-"-', '—"—', 'as above'])('as %s stand for the cell above', (mark) => {
    expect(column(`Clip,Lens,Focal\nC001,Zoom 24-70,35\nC002,${mark},${mark}\nC003,${mark},50\n`, 'lens')).toEqual(['Zoom 24-70', 'Zoom 24-70', 'Zoom 24-70']);
  });

  it('say which line they repeat, and keep their own', () => {
    const { notes } = read('Clip,Lens\nC001,Zoom\nC002,〃\nC003,〃\n');
    expect(notes[2]?.statements.find(({ field }) => field === 'lens')).toMatchObject({ raw: 'Zoom', source: { place: 'line 4, column "Lens", as line 2 above' } });
  });

  it('are marks of their own when a lone quotation mark stands unquoted, in any column', () => {
    const text = 'Clip,Lens,Focal,Stop\nC001,Zoom,35,T4\nC002,",35,"\nC003,",50,"\nC004,Prime,",T4\n';
    expect([column(text, 'lens'), column(text, 'focalLength')]).toEqual([['Zoom', 'Zoom', 'Zoom', 'Prime'], ['35', '35', '50', '50']]);
    expect(read(text).notes).toHaveLength(4);
    expect(warnings(read(text))).toEqual([]);
  });

  it('are never taken out of a quoted cell that fits as it stands', () => {
    const { notes } = read('Clip,Lens,Notes\nC001,Zoom,"\nwide, then tight"\nC002,",a",x\n');
    expect(notes.map(({ statements }) => said(statements, 'notes').join())).toEqual(['wide, then tight', 'x']);
  });

  it('repeat nothing across nothing: the first row, a blank cell, a row left out for its quotes', () => {
    expect(warnings(read('Clip,Lens\nC001,〃\n'))).toEqual(['line 2, column "Lens": "〃"']);
    expect(warnings(read('Clip,Lens\nC001,Zoom\nC002,\nC003,〃\n'))).toEqual(['line 4, column "Lens": "〃"']);
    const damaged = read('Clip,Lens\nC001,Zoom\nC002,"Prime" x,1\nC003,〃\n');
    expect(damaged.notes.map(({ statements }) => said(statements, 'lens').join())).toEqual(['Zoom', '']);
  });

  it('are no marks in remarks, and never a name of a clip', () => {
    expect(column('Clip,Slate,Notes\nC001,1-1,good\nC002,1-2,do\n', 'notes')).toEqual(['good', 'do']);
    expect(column('Clip,Slate\nC001,1-1\n〃,1-2\n', 'clip')).toEqual(['C001', '']);
  });

  it('are words where they are part of one', () => {
    expect(column('Clip,Lens\nC001,Zoom\nC002,Dover 35\n', 'lens')).toEqual(['Zoom', 'Dover 35']);
    expect(column(`Clip,Height\nC001,4'\nC002,4'8"\n`, 'cameraHeight')).toEqual(['1.2192', '1.4224']);
  });
});

describe('a blank roll below a written one (common practice, no source)', () => {
  it('is that roll within its block, and said to be assumed', () => {
    const reading = read('Clip,Roll,Slate\nC001,A001,1-1\nC002,,1-2\nC003,,1-3\n');
    expect(reading.notes.map(({ statements }) => said(statements, 'roll').join())).toEqual(['A001', 'A001', 'A001']);
    expect(reading.notes[2]?.statements.find(({ field }) => field === 'roll')?.source.place).toBe('line 4, column "Roll", blank: as line 2 above, assumed');
    expect(reading.problems).toMatchObject([{ severity: 'note', expected: expect.stringContaining('assumed') }]);
  });

  it.each([
    ['an empty line', 'Clip,Roll\nC001,A001\n\nC002,\n'],
    ['numbers that start again', 'Clip,Roll\nC009,A001\nC001,\n'],
    ['another camera', 'Clip,Cam,Roll\nC001,A,A001\nC002,B,\n'],
    ['a mark for unknown', 'Clip,Roll\nC001,A001\nC002,?\n'],
    ['a whole name', 'Clip,Roll\nA001C001,A001\nA002C002,\n'],
  ])('is left blank after %s', (_why, text) => {
    expect(column(text, 'roll')).toEqual(['A001', '']);
  });
});
