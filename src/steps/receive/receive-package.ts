import { pathFault } from '../../formats/mhl/safe-path.ts';
import { compareText } from '../../formats/report/order.ts';
import type { Receipt, ReceiptFinding, ReceiptShot } from '../../formats/turnover/receipt.ts';
import { RECEIPT_SCHEMA, resultOf } from '../../formats/turnover/receipt.ts';
import type { ParsedFile, ShotFile } from '../../formats/turnover/shot-file.ts';
import { parseShot } from '../../formats/turnover/shot-file.ts';
import type { StandingShot, TurnoverFile } from '../../formats/turnover/turnover-file.ts';
import { parseTurnover, TURNOVER_FILE } from '../../formats/turnover/turnover-file.ts';
import type { Verification } from '../../formats/mhl/verification.ts';
import type { FolderEntry } from '../../ports.ts';
import { checkShot } from './check-shot.ts';
import type { ReceivePorts } from './receive-ports.ts';

const MOST_JSON_BYTES = 64 * 1024 * 1024;

/**
 * Holds a package against what it says of itself: its seal (`verification`), then every shot's files, frames, numbering and
 * headers. Writes nothing. `folder` is absolute, `name` what the receipt calls it.
 */
export async function receivePackage(folder: string, name: string, verification: Verification, ports: ReceivePorts, signal: AbortSignal): Promise<Receipt> {
  const entries = await ports.store.listAll(folder, signal);
  const files = new Map(entries.filter(({ kind }) => kind === 'file').map((entry) => [entry.file, entry]));
  const findings: ReceiptFinding[] = verification.problems.map((problem) => ({ ...problem }));
  const turnover = await readJson(files.get(TURNOVER_FILE), TURNOVER_FILE, parseTurnover, ports, signal, findings);
  const shots = await receiveShots(turnover, files, ports, signal, findings);
  const sorted = findings.toSorted((a, b) => SEVERITY.indexOf(a.severity) - SEVERITY.indexOf(b.severity) || compareText(a.file, b.file) || compareText(a.code, b.code) || compareText(a.found, b.found));
  return {
    schema: RECEIPT_SCHEMA,
    package: name,
    show: turnover?.show ?? '',
    revision: turnover?.revision ?? 0,
    result: resultOf(sorted),
    seal: { generations: verification.generations, verifiedFiles: verification.verifiedFiles, hashedBytes: verification.hashedBytes },
    files: files.size,
    bytes: [...files.values()].reduce((sum, { sizeBytes }) => sum + sizeBytes, 0),
    shots: [...shots],
    findings: sorted,
  };
}

const SEVERITY = ['stop', 'warn', 'note'];

async function receiveShots(turnover: TurnoverFile | undefined, files: ReadonlyMap<string, FolderEntry>, ports: ReceivePorts, signal: AbortSignal, findings: ReceiptFinding[]): Promise<readonly ReceiptShot[]> {
  const packaged = (turnover?.shots ?? []).filter(({ folder }) => folder !== null);
  ports.progress.start('checking shots', packaged.length, 0);
  const shots: ReceiptShot[] = [];
  for (const standing of packaged) {
    signal.throwIfAborted();
    shots.push(await receiveShot(standing, files, ports, signal, findings));
    ports.progress.advance(1, 0);
  }
  ports.progress.done();
  return shots;
}

async function receiveShot({ shot, folder: named, change }: StandingShot, files: ReadonlyMap<string, FolderEntry>, ports: ReceivePorts, signal: AbortSignal, findings: ReceiptFinding[]): Promise<ReceiptShot> {
  const folder = named ?? '';
  const own: ReceiptFinding[] = [];
  const fault = pathFault(folder) ?? (folder.includes('/') ? 'it lies deeper than a folder of the package' : undefined);
  const file = `${folder}/shot.json`;
  let checked = { frames: { expected: 0, found: 0 }, headers: { checked: 0, differ: 0 } };
  if (fault !== undefined) own.push(unsafe(TURNOVER_FILE, shot, `folder ${JSON.stringify(folder)}: ${fault}`));
  else {
    const said = await readJson(files.get(file), file, parseShot, ports, signal, own);
    if (said !== undefined) checked = await checkShot(said, folder, files, ports, signal, own);
    if (said !== undefined && said.shot !== shot) own.push(contradiction(file, `shot ${said.shot}`, `shot ${shot}, as ${TURNOVER_FILE} says`));
  }
  const already = findings.filter((finding) => folder !== '' && finding.file.startsWith(`${folder}/`));
  const result = resultOf([...own, ...already]);
  findings.push(...own);
  return { shot, folder, change: [...change.kinds], ...checked, result };
}

async function readJson<T extends TurnoverFile | ShotFile>(entry: FolderEntry | undefined, file: string, parse: (text: string) => ParsedFile<T>, ports: ReceivePorts, signal: AbortSignal, findings: ReceiptFinding[]): Promise<T | undefined> {
  if (entry === undefined) {
    findings.push({ code: 'file-missing', severity: 'stop', file, place: '', found: 'not there', expected: 'what the package says of itself', remedy: ASK_NEW });
    return undefined;
  }
  const bytes = await ports.store.readWhole(entry.path, MOST_JSON_BYTES, signal).catch((problem: unknown) => {
    signal.throwIfAborted();
    return problem instanceof Error ? problem : new Error(String(problem));
  });
  const parsed: ParsedFile<T> = bytes instanceof Error ? { kind: 'faulty', faults: [bytes.message] } : parse(ports.decode(bytes));
  if (parsed.kind === 'ok') return parsed.value;
  findings.push(contradiction(file, parsed.faults.join('; '), 'a file as gemel writes it'));
  return undefined;
}

const ASK_NEW = 'ask for the package again, and receive it before work begins';

function contradiction(file: string, found: string, expected: string): ReceiptFinding {
  return { code: 'manifest-invalid', severity: 'stop', file, place: '', found, expected, remedy: ASK_NEW };
}

function unsafe(file: string, place: string, found: string): ReceiptFinding {
  return { code: 'path-unsafe', severity: 'stop', file, place, found, expected: 'a plain name inside the package', remedy: 'open nothing by that path; ask for a new package' };
}
