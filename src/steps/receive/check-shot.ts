import { pathFault } from '../../formats/mhl/safe-path.ts';
import { pictureFile } from '../../formats/turnover/header-label-of.ts';
import { runWords } from '../../formats/turnover/pull-list.ts';
import type { ReceiptFinding, ReceiptShot } from '../../formats/turnover/receipt.ts';
import type { PassPictures, ShotFile, ShotPass } from '../../formats/turnover/shot-file.ts';
import type { FolderEntry } from '../../ports.ts';
import { checkHeader } from './check-header.ts';
import type { ReceivePorts } from './receive-ports.ts';

type Checked = Pick<ReceiptShot, 'frames' | 'headers'>;
type Files = ReadonlyMap<string, FolderEntry>;

const HEADERS_AT_ONCE = 8;
/** More than two hours at 24: no pass of a shot, and only to keep the vendor waiting. */
const MOST_FRAMES = 200_000;

/** Holds the files of one shot against its `shot.json`: every frame by its number, its header, every movie. */
export async function checkShot(shot: ShotFile, folder: string, files: Files, ports: Pick<ReceivePorts, 'open'>, signal: AbortSignal, findings: ReceiptFinding[]): Promise<Checked> {
  const total = { frames: { expected: 0, found: 0 }, headers: { checked: 0, differ: 0 } };
  for (const pass of shot.passes) {
    const faults = pathFaults(pass, folder, findings);
    if (pass.movie !== null && !faults && !files.has(pass.movie.file)) findings.push({ code: 'file-missing', severity: 'stop', file: pass.movie.file, place: '', found: 'not there', expected: `the reference movie of the ${pass.role} pass`, remedy: 'ask for it' });
    if (pass.pictures === null || faults) continue;
    const numbers = numbersOf(pass.pictures);
    if (numbers === undefined) {
      findings.push({ code: 'manifest-invalid', severity: 'stop', file: `${folder}/shot.json`, place: `${pass.role} pass`, found: `more than ${MOST_FRAMES} frame numbers`, expected: 'the frames of a shot', remedy: 'ask for the package again' });
      continue;
    }
    const there = checkNumbers(pass, pass.pictures, numbers, files, findings);
    const differ = await checkHeaders(pass.pictures, there, files, ports, signal, findings);
    total.frames.expected += numbers.length;
    total.frames.found += there.length;
    total.headers.checked += hasHeaders(pass.pictures) ? there.length : 0;
    total.headers.differ += differ;
  }
  return total;
}

/** Whether a name leads out of the shot's folder; each is a finding. */
function pathFaults({ pictures, movie, role }: ShotPass, folder: string, findings: ReceiptFinding[]): boolean {
  const names = [pictures?.files, movie?.file].filter((name) => name !== undefined);
  const unsafe = names.flatMap((name) => {
    const fault = pathFault(name) ?? (name.startsWith(`${folder}/`) ? undefined : `it lies outside ${folder}`);
    return fault === undefined ? [] : [`${JSON.stringify(name)}: ${fault}`];
  });
  findings.push(...unsafe.map((found): ReceiptFinding => ({
    code: 'path-unsafe', severity: 'stop', file: `${folder}/shot.json`, place: `${role} pass`, found, expected: `a file inside ${folder}`, remedy: 'open nothing by that path; ask for a new package',
  })));
  return unsafe.length > 0;
}

/** Undefined when there are more than any shot has. */
function numbersOf({ numbers }: PassPictures): readonly number[] | undefined {
  const all: number[] = [];
  for (const { first, last } of numbers) {
    if (all.length + last - first > MOST_FRAMES) return undefined;
    for (let number = first; number <= last; number++) all.push(number);
  }
  return all;
}

/** The numbers that are there. Those that are not are holes, those beyond are extra. */
function checkNumbers({ role }: ShotPass, pictures: PassPictures, numbers: readonly number[], files: Files, findings: ReceiptFinding[]): readonly number[] {
  const there = numbers.filter((number) => files.has(pictureFile(pictures, number)));
  const holes = runsOf(numbers.filter((number) => !files.has(pictureFile(pictures, number))));
  if (holes.length > 0) {
    findings.push({
      code: 'sequence-hole', severity: 'stop', file: pictures.files, place: '', found: `${there.length} of ${numbers.length} frames; ${listed(holes)} not there`,
      expected: `every frame of the ${role} pass, ${listed(pictures.numbers.map(({ first, last }) => [first, last]))}`, remedy: 'ask for these frames',
    });
  }
  if (pictures.count !== numbers.length) {
    findings.push({ code: 'manifest-invalid', severity: 'stop', file: pictures.files, place: '', found: `a count of ${pictures.count} for ${numbers.length} frame numbers`, expected: 'the same', remedy: 'ask for the package again' });
  }
  return there;
}

async function checkHeaders(pictures: PassPictures, numbers: readonly number[], files: Files, ports: Pick<ReceivePorts, 'open'>, signal: AbortSignal, findings: ReceiptFinding[]): Promise<number> {
  if (!hasHeaders(pictures)) return 0;
  const faults = new Map<number, string>();
  const next = numbers.values();
  const work = Array.from({ length: HEADERS_AT_ONCE }, async () => {
    for (const number of next) {
      const entry = files.get(pictureFile(pictures, number));
      const fault = entry === undefined ? undefined : await checkHeader(entry.path, pictures, number, ports, signal);
      if (fault !== undefined) faults.set(number, fault);
    }
  });
  await Promise.all(work);
  const wrong = [...faults.keys()].toSorted((a, b) => a - b);
  const [first] = wrong;
  if (first === undefined) return 0;
  findings.push({
    code: 'header-differs', severity: 'stop', file: pictures.files, place: '', found: `${listed(runsOf(wrong))}: frame ${first} has ${faults.get(first) ?? ''}`,
    expected: 'timecode and rate as shot.json says', remedy: 'ask for these frames again; do not conform by them',
  });
  return wrong.length;
}

function hasHeaders({ format, timecode, rate }: PassPictures): boolean {
  return (format === 'dpx' || format === 'exr') && (timecode !== null || rate !== null);
}

function runsOf(numbers: readonly number[]): readonly (readonly [number, number])[] {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run[1] === number - 1) run[1] = number;
    else runs.push([number, number]);
  }
  return runs;
}

const NAMED_RUNS = 12;

function listed(runs: readonly (readonly [number, number])[]): string {
  const named = runs.slice(0, NAMED_RUNS).map(([first, last]) => runWords(first, last)).join(', ');
  return runs.length > NAMED_RUNS ? `${named} and ${runs.length - NAMED_RUNS} more runs` : named;
}
