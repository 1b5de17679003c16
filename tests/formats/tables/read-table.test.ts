import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facts, read, readBytes, remarks, said, warnings } from './read.ts';

const report = [
  'Clip Name,Cam,Slate,Tk,Pass,Lens (mm),T-Stop,Focus,Height cm,WB,Filter,Tilt °,FPS,Circled,Notes',
  `A003C012_261125_R7QK,A,27B,3,lead,35,2.8 1/2,12'6",142,5600K,ND.6,-3°,59.94 DF,x,"both at the table, quiet"`,
  'A003C013_261125_R7QK,A,27B,4,SW,35mm,T2.8,3.81 m,1.42 m,5600,clear,"-3,0",59.94,,',
].join('\n');

describe('a camera report', () => {
  it('reads each row into statements with file, line and heading', () => {
    const { kind, notes, shots, marks, problems } = read(report);
    expect({ kind, shots, marks, problems }).toEqual({ kind: 'report', shots: [], marks: [], problems: [] });
    expect(notes.map(({ kind: source, file, place, folder, stem, tracks }) => ({ source, file, place, folder, stem, tracks }))).toEqual([
      { source: 'report', file: 'day/report.csv', place: 'line 2', folder: 'day', stem: undefined, tracks: [] },
      { source: 'report', file: 'day/report.csv', place: 'line 3', folder: 'day', stem: undefined, tracks: [] },
    ]);
    expect(facts(notes[0]?.statements ?? [])).toEqual({
      file: 'A003C012_261125_R7QK', camera: 'A', slate: '27B', take: '3', pass: 'lead', focalLength: 35, stop: { kind: 'T', number: expect.closeTo(3.3636, 3) },
      focusDistance: 3.81, cameraHeight: 1.42, whiteBalance: 5600, filters: { text: 'ND.6', ndDensity: 0.6 }, tilt: -3, fps: { num: 60000, den: 1001 },
      dropFrame: true, circled: true, notes: 'both at the table, quiet',
    });
    expect(facts(notes[1]?.statements ?? [])).toEqual({
      file: 'A003C013_261125_R7QK', camera: 'A', slate: '27B', take: '4', pass: 'SW', focalLength: 35, stop: { kind: 'T', number: 2.8 },
      focusDistance: 3.81, cameraHeight: 1.42, whiteBalance: 5600, filters: { text: 'clear', ndDensity: 0 }, tilt: -3, fps: { num: 60000, den: 1001 },
    });
    expect(notes[0]?.statements.find(({ field }) => field === 'stop')).toEqual({
      field: 'stop', value: { kind: 'T', number: expect.any(Number) }, raw: '2.8 1/2', source: { kind: 'report', file: 'day/report.csv', place: 'line 2, column "T-Stop"' },
    });
  });

  it('names the file, line and column of a cell it cannot read, and reads the rest of the row', () => {
    const reading = read('Slate,Take,Lens (mm),WB\n27B,1,35,tungsten\n27B,2,24-70,5600K\n');
    expect(reading.problems).toEqual([
      { code: 'unreadable-value', severity: 'warn', file: 'day/report.csv', place: 'line 2, column "WB"', found: '"tungsten"', expected: expect.stringContaining('kelvin'), remedy: expect.stringMatching(/\w/) },
      { code: 'unreadable-value', severity: 'warn', file: 'day/report.csv', place: 'line 3, column "Lens (mm)"', found: '"24-70"', expected: expect.stringContaining('focal length'), remedy: expect.stringMatching(/\w/) },
    ]);
    expect(reading.notes.map(({ statements }) => facts(statements))).toEqual([{ slate: '27B', take: '1', focalLength: 35 }, { slate: '27B', take: '2', whiteBalance: 5600 }]);
  });

  it('takes no sentinel and no "unknown" for a value or a problem', () => {
    const reading = read('Slate,Take,Lens,Focal,Focus,T-Stop,WB,Tilt,Notes\n27B,1,--,0,-0.001,n.a.,0,409.500,tbd\n27C,n/a,?,unknown,--,,0 K,,\n');
    expect(reading.problems).toEqual([]);
    expect(reading.notes.map(({ statements }) => facts(statements))).toEqual([{ slate: '27B', take: '1' }, { slate: '27C' }]);
  });

  it('says once a column that a bare distance is taken as metres', () => {
    const reading = read('Slate,Take,Height\n27B,1,1.42\n27B,2,1.42\n27B,3,1.40\n');
    expect(remarks(reading)).toEqual(['line 2, column "Height": "1.42" and 2 more cells: no unit is written: taken as metres']);
    expect(reading.notes.flatMap(({ statements }) => said(statements, 'cameraHeight'))).toEqual([1.42, 1.42, 1.4]);
  });

  it('lets the unit of a heading serve the cells that have none, and a cell overrule it', () => {
    const { notes, problems } = read(`Slate,Take,Focus Distance (ft)\n27B,1,5.83\n27B,2,1.5 m\n27B,3,"12'6"""\n`);
    expect(problems).toEqual([]);
    expect(notes.flatMap(({ statements }) => said(statements, 'focusDistance'))).toEqual([1.776984, 1.5, 3.81]);
  });

  it('keeps a slate with its take as text', () => {
    expect(facts(read('File,Slate\nA001C001.mov,27B-3\n').notes[0]?.statements ?? [])).toEqual({ file: 'A001C001.mov', slate: '27B-3' });
  });

  it('reads each of two columns of one field', () => {
    const [note] = read('Slate,Take,Shutter Angle,Shutter Speed\n27B,1,172.8,1/50\n').notes;
    expect(said(note?.statements ?? [], 'shutter')).toEqual([{ kind: 'angle', degrees: 172.8 }, { kind: 'time', seconds: 0.02 }]);
  });

  it('takes a bare focal length under "Lens" for one, and says so where no mm is written', () => {
    const reading = read('Slate,Take,Lens\n27B,1,35mm\n27B,2,35\n27B,3,Invented 35 T1.4\n27B,4,24-70mm\n');
    expect(reading.notes.map(({ statements }) => facts(statements))).toMatchObject([{ focalLength: 35 }, { focalLength: 35 }, { lens: 'Invented 35 T1.4' }, { lens: '24-70mm' }]);
    expect(reading.notes.slice(0, 2).flatMap(({ statements }) => said(statements, 'lens'))).toEqual([]);
    expect(remarks(reading)).toEqual(['line 3, column "Lens": "35": taken as a focal length in mm, not as the name of a lens']);
  });

  it('passes over headings that are repeated on every page', () => {
    const reading = read('Slate,Take,T-Stop\n27B,1,2.8\nSlate,Take,T-Stop\n27B,2,2.8\n');
    expect(reading.problems).toEqual([]);
    expect(reading.notes.map(({ place }) => place)).toEqual(['line 2', 'line 4']);
  });

  it('uses the first cell that speaks under a heading that stands twice, and says when they disagree', () => {
    const reading = read('Slate,Take,ISO,Iso\n27B,1,,800\n27B,2,800,\n27B,3,400,800\n27B,4,400,640\n');
    expect(reading.notes.flatMap(({ statements }) => said(statements, 'ei'))).toEqual([800, 800, 400, 400]);
    expect(warnings(reading)).toEqual(['line 4, column "ISO": the heading twice, with "400" and "800"']);
    expect(warnings(read('Slate,Take,ISO,ISO\n27B,1,800,800\n'))).toEqual([]);
  });

  it('lists the columns it does not read, when anything stands in them', () => {
    expect(remarks(read('Slate,Take,Weather,Mood,Empty\n27B,1,rain,,\n27B,2,,calm,\n'))).toEqual(['line 1: columns "Weather", "Mood": headings that stand for no value known here: not read']);
  });

  it('reads short rows as far as they go, and warns of rows with cells beyond the headings', () => {
    const reading = read('Slate,Take,Notes\n27B,1\n27B,2,again, please\n27B,3,,,\n');
    expect(reading.notes.map(({ statements }) => facts(statements))).toEqual([{ slate: '27B', take: '1' }, { slate: '27B', take: '2', notes: 'again' }, { slate: '27B', take: '3' }]);
    expect(warnings(reading)).toEqual(['line 3: 4 cells']);
  });

  it('reads the rows before and after one with an unbalanced quotation mark', () => {
    const reading = read('Slate,Take,Notes\n27B,1,fine\n27B,2,"oh\n27B,3,"good, ""really"""\n27B,"4,x,y\n27B,5,\n');
    expect(warnings(reading)).toEqual(['line 3: a quotation mark without its partner', 'line 5: a quotation mark without its partner', 'line 5: 4 cells']);
    expect(reading.notes.flatMap(({ statements }) => said(statements, 'take'))).toEqual(['1', '2', '3', '5']);
    expect(reading.notes.map(({ place }) => place)).toEqual(['line 2', 'line 3', 'line 4', 'line 6']);
  });

  it('names the first fifty broken rows and counts the others', () => {
    const broken = warnings(read(`Slate,Take\n${'"27B,1\n'.repeat(60)}`));
    expect(broken).toHaveLength(51);
    expect(broken.at(-1)).toBe('line 52 and after: 10 more such rows');
    expect(warnings(read(`Slate,Take\n${'27B,1,x\n'.repeat(60)}`)).at(-1)).toBe('line 52 and after: 10 more such rows');
  });

  it('finds the heading row below titles, and says what it passed over', () => {
    const reading = read('Twin Elms,Day 3\nCamera,A\n\nSlate,Take,Lens (mm)\n27B,1,35\n');
    expect(reading.notes.map(({ place, statements }) => [place, facts(statements)])).toEqual([['line 5', { slate: '27B', take: '1', focalLength: 35 }]]);
    expect(remarks(reading)).toEqual(['line 1: "Twin Elms, Day 3" above the headings: which is not read', 'line 2: "Camera, A" above the headings: which is not read']);
  });
});

describe('any encoding and delimiter', () => {
  const plain = read('Slate,Take,Notes\n27B,1,plus\n27B,2,minus\n').notes;
  const utf16 = (littleEndian: boolean, marked: boolean): Uint8Array => {
    const text = `${marked ? '\uFEFF' : ''}Slate,Take,Notes\r\n27B,1,plus\r\n27B,2,minus\r\n`;
    const bytes = new Uint8Array(2 * text.length);
    for (let at = 0; at < text.length; at += 1) new DataView(bytes.buffer).setUint16(2 * at, text.charCodeAt(at), littleEndian);
    return bytes;
  };
  const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
  it.each([
    ['a byte order mark', utf8('\uFEFFSlate,Take,Notes\n27B,1,plus\n27B,2,minus\n')],
    ['CRLF', utf8('Slate,Take,Notes\r\n27B,1,plus\r\n27B,2,minus')],
    ['CR', utf8('Slate,Take,Notes\r27B,1,plus\r27B,2,minus\r')],
    ['tabs', utf8('Slate\tTake\tNotes\n27B\t1\tplus\n27B\t2\tminus\n')],
    ['semicolons', utf8('Slate;Take;Notes\n27B;1;plus\n27B;2;minus\n')],
    ['a separator line', utf8('sep=;\nSlate;Take;Notes\n27B;1;plus\n27B;2;minus\n')],
    ['everything in quotes', utf8('"Slate","Take","Notes"\n"27B","1","plus"\n"27B","2","minus"\n')],
    ['UTF-16 little-endian', utf16(true, true)],
    ['UTF-16 big-endian', utf16(false, true)],
    ['UTF-16 without a mark', utf16(true, false)],
  ])('%s: the same rows', (name, bytes) => {
    const { notes, problems } = readBytes(bytes);
    expect(problems).toEqual([]);
    const shift = name === 'a separator line' ? 1 : 0;
    expect(notes.map(({ statements }) => facts(statements))).toEqual(plain.map(({ statements }) => facts(statements)));
    expect(notes.map(({ place }) => place)).toEqual([`line ${2 + shift}`, `line ${3 + shift}`]);
  });

  it('reads decimal commas between semicolons', () => {
    expect(facts(read('Slate;Take;Height (m);Tilt\n27B;1;1,42;-3,5\n').notes[0]?.statements ?? [])).toEqual({ slate: '27B', take: '1', cameraHeight: 1.42, tilt: -3.5 });
  });

  it('says that text which is not UTF-8 is read as Windows-1252', () => {
    const latin1 = 'Slate,Take,Notes\n27B,1,clé\n';
    const reading = readBytes(Uint8Array.from({ length: latin1.length }, (_, at) => latin1.charCodeAt(at)));
    expect(said(reading.notes[0]?.statements ?? [], 'notes')).toEqual(['clé']);
    expect(remarks(reading)).toEqual([': text that is not UTF-8: read as Windows-1252 by assumption']);
  });
});

describe('a table that is none of gemel’s', () => {
  it.each([
    ['nothing', ''],
    ['white space', ' \n\n'],
    ['no heading row', 'A003C012,27B,3,35mm\nA003C013,27B,4,35mm\n'],
    ['other headings', 'Name,Phone\nGaffer,12\n'],
    ['headings that name no clip', 'Lens,Filter\n35mm,ND.6\n'],
    ['tracking samples', '{"protocol": {"name": "OpenTrackIO", "version": [1, 0, 1]}}'],
    ['bytes that are no text', 'Slate,Take\n27B\0,\0\n'],
  ])('%s: unknown, with one problem for the file', (_name, text) => {
    const { kind, notes, shots, marks, problems } = read(text);
    expect({ kind, notes, shots, marks }).toEqual({ kind: 'unknown', notes: [], shots: [], marks: [] });
    expect(problems).toEqual([expect.objectContaining({ code: 'unreadable-file', file: 'day/report.csv' })]);
  });
});

describe('a shot list', () => {
  it('reads shots with their cut range, handles and slate', () => {
    const reading = read(
      'Shot,Slate,Take,Camera,Method,Vendor,Description,Cut In,Cut Out,Head,Tail,Notes\n'
        + 'TWE_0270,27B,3,A,split,North Vendor,two at the table,14:22:35:00,14:22:41:12,12,12,hold the cup\n'
        + 'TWE_0280,27C-1,,,,,,14:30:00;00,14:30:02;00,,8 frames,\n',
      'shots.csv',
    );
    expect(reading).toEqual({
      kind: 'shot-list', notes: [], marks: [], problems: [],
      shots: [
        {
          shot: 'TWE_0270', slate: '27B', take: 3, camera: 'A', method: 'split', vendor: 'North Vendor', description: 'two at the table', cutIn: '14:22:35:00',
          cutOut: '14:22:41:12', handles: { head: 12, tail: 12 }, notes: 'hold the cup', from: 'shots.csv line 2',
        },
        { shot: 'TWE_0280', slate: '27C-1', cutIn: '14:30:00;00', cutOut: '14:30:02;00', handles: { tail: 8 }, from: 'shots.csv line 3' },
      ],
    });
  });

  it('leaves out a row without shot or slate, and names cells it cannot read', () => {
    const reading = read('shot,slate,take,cut_in,cut_out,head\n,27B,1,,,\nTWE_1,,1,,,\nTWE_2,27B,last,14:22:35,14:22:41:12,-8\n');
    expect(warnings(reading)).toEqual([
      'line 2: a row without a shot code', 'line 3: a row without a slate',
      'line 4, column "head": "-8"', 'line 4, column "take": "last"', 'line 4, column "cut_in": "14:22:35"',
    ]);
    expect(reading.shots).toEqual([{ shot: 'TWE_2', slate: '27B', cutOut: '14:22:41:12', handles: {}, from: 'day/report.csv line 4' }]);
  });

  it('is told from a script log that counts shots', () => {
    expect(read('Scene,Shot,Take,TC In,Description\n27,4,1,14:22:35:00,two at the table\n').kind).toBe('report');
  });
});

describe('move notes', () => {
  it('reads marks with positions, angles and times', () => {
    const reading = read(
      'slate,take,pass,mark,tc,x (cm),y (m),z,pan,tilt,roll,focal_length,focus_distance,notes\n'
        + `41A,2,lead,1,10:11:12:13,120,0,1.4 m,-12.5,-3°,0,40mm,12'6",door\n`
        + '41A,2,lead,2,10:11:15:00,180,1.5,1.4 m,12,2° up,0.5,40,inf,\n',
      'moves.csv',
    );
    expect(reading).toEqual({
      kind: 'move-notes', notes: [], shots: [], problems: [],
      marks: [
        { slate: '41A', take: 2, pass: 'lead', mark: '1', tc: '10:11:12:13', x: 1.2, y: 0, z: 1.4, pan: -12.5, tilt: -3, roll: 0, focalLengthMm: 40, focusDistanceM: 3.81, notes: 'door', from: 'moves.csv line 2' },
        { slate: '41A', take: 2, pass: 'lead', mark: '2', tc: '10:11:15:00', x: 1.8, y: 1.5, z: 1.4, pan: 12, tilt: 2, roll: 0.5, focalLengthMm: 40, focusDistanceM: Infinity, from: 'moves.csv line 3' },
      ],
    });
  });

  it('reads times from the sync mark, takes bare positions as metres and says so', () => {
    const reading = read('Slate,Camera,Pass,Mark,Time,X\n41A,B,swapped,1,0.0,1.2\n41A,B,swapped,2,3.5 s,2\n');
    expect(reading.marks.map(({ camera, timeS, x }) => ({ camera, timeS, x }))).toEqual([{ camera: 'B', timeS: 0, x: 1.2 }, { camera: 'B', timeS: 3.5, x: 2 }]);
    expect(remarks(reading)).toEqual(['line 2, column "X": "1.2" and 1 more cell: no unit is written: taken as metres']);
  });

  it('leaves out a row without slate or mark', () => {
    const reading = read('slate,mark,tc\n,1,10:11:12:13\n41A,,10:11:12:13\n41A,3,noon\n');
    expect(warnings(reading)).toEqual(['line 2: a row without a slate', 'line 3: a row without a mark', 'line 4, column "tc": "noon"']);
    expect(reading.marks).toEqual([{ slate: '41A', mark: '3', pass: '', from: 'day/report.csv line 4' }]);
  });
});

describe('reading any bytes', () => {
  it('never throws, and gives the same for the same bytes', () => {
    const text = fc.string({ unit: fc.constantFrom('Slate', 'Take', 'Mark', 'TC', 'Shot', 'Cut In', ',', ',', '\n', '\n', '"', '1', '27B', '\t', 'T2.8', '\0', 'é'), maxLength: 40 });
    fc.assert(fc.property(fc.oneof(fc.uint8Array({ maxLength: 80 }), text.map((one) => new TextEncoder().encode(one))), (bytes) => {
      expect(readBytes(bytes)).toEqual(readBytes(bytes));
    }), { numRuns: 500 });
  });
});
