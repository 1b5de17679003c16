import { access, constants, mkdir, readdir, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { DiskPackageStore } from '../adapters/filesystem/disk-package-store.ts';
import { explainFailure } from '../adapters/filesystem/explain-failure.ts';
import { openFile } from '../adapters/filesystem/open-file.ts';
import { FileHasher } from '../adapters/hash/file-hasher.ts';
import { PdfSheetPrinter } from '../adapters/pdf/sheet-printer.ts';
import { FastXmlReader } from '../adapters/xml/fast-xml-reader.ts';
import { UsageError } from '../core/material/errors.ts';
import { HISTORY_FOLDER } from '../formats/mhl/manifest.ts';
import type { Paper } from '../formats/sheet/content.ts';
import type { Receipt } from '../formats/turnover/receipt.ts';
import { formatReceipt } from '../formats/turnover/receipt.ts';
import { receiptSheet } from '../formats/turnover/receipt-sheet.ts';
import { TURNOVER_FILE } from '../formats/turnover/turnover-file.ts';
import type { Progress } from '../ports.ts';
import { receivePackage } from '../steps/receive/receive-package.ts';
import { verifyHistory } from '../steps/seal/verify-history.ts';
import { isInside } from './load-config.ts';

/** The receipt of a package, and where it was written. */
export interface Received {
  readonly receipt: Receipt;
  readonly json: string;
  readonly pdf: string;
  readonly warnings: readonly string[];
}

/** Verifies a package and writes its receipt beside it, or into `out`; nothing is written into the package. Needs no outside program. */
export async function receiveFolder(typed: string, out: string | undefined, paper: Paper, progress: Progress, signal: AbortSignal): Promise<Received> {
  const warnings: string[] = [];
  const folder = await packageIn(resolve(typed), warnings);
  const target = await receiptFolder(folder, out, warnings);
  await using hasher = await FileHasher.open({ explain: explainFailure });
  const store = new DiskPackageStore();
  const verification = await verifyHistory(folder, { store, hasher, xml: new FastXmlReader({ lists: true }), progress }, signal);
  const decoder = new TextDecoder();
  const name = basename(folder);
  const receipt = await receivePackage(folder, name, verification, { store, open: openFile, decode: (bytes) => decoder.decode(bytes), progress }, signal);
  const paths = { json: join(target, `${name}-receipt.json`), pdf: join(target, `${name}-receipt.pdf`) };
  await writeFile(paths.json, formatReceipt(receipt));
  await writeFile(paths.pdf, await new PdfSheetPrinter().print(receiptSheet(receipt, paper), new Map()));
  return { receipt, ...paths, warnings };
}

/** The folder itself, or the one package that lies in it. */
async function packageIn(folder: string, warnings: string[]): Promise<string> {
  const facts = await stat(folder).catch(() => undefined);
  if (facts?.isDirectory() !== true) throw new UsageError([`${folder} is no folder; give the package's own`]);
  if (await isThere(join(folder, TURNOVER_FILE))) return folder;
  const names = await readdir(folder);
  const within: string[] = [];
  for (const name of names.toSorted()) if (await isThere(join(folder, name, TURNOVER_FILE))) within.push(name);
  const [only, ...others] = within;
  if (only === undefined) {
    // A package that lost its turnover.json on the way is known by its seal, and is received as not whole.
    if (names.includes(HISTORY_FOLDER)) return folder;
    throw new UsageError([`${folder}: no gemel package here (expected ${TURNOVER_FILE} and a folder ${HISTORY_FOLDER}, as gemel turnover writes them); give the folder of a package`]);
  }
  if (others.length > 0) throw new UsageError([`${folder} holds several packages: ${within.join(', ')}; give one of them`]);
  warnings.push(`${folder} is no package itself; ${only}, which lies in it, is received`);
  return join(folder, only);
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(() => true, () => false);
}

async function receiptFolder(folder: string, out: string | undefined, warnings: string[]): Promise<string> {
  if (out !== undefined) {
    const target = resolve(out);
    if (await isInside(target, folder)) throw new UsageError([`${target} lies inside the package, into which nothing is written; give --out somewhere else`]);
    await mkdir(target, { recursive: true }).catch((problem: unknown) => {
      throw new UsageError([`${target} cannot be made (${problem instanceof Error && 'code' in problem ? String(problem.code) : String(problem)}); give --out where you may write`]);
    });
    return target;
  }
  const beside = dirname(folder);
  if (await access(beside, constants.W_OK).then(() => true, () => false)) return beside;
  const here = process.cwd();
  if (await isInside(here, folder)) throw new UsageError([`beside the package nothing can be written, and the current folder lies inside it; give --out FOLDER`]);
  warnings.push(`beside the package nothing can be written: the receipt goes to ${here}`);
  return here;
}
