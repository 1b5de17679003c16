import { hostname } from 'node:os';
import { FileHasher } from '../adapters/hash/file-hasher.ts';
import { DiskHistoryWriter } from '../adapters/filesystem/disk-history-writer.ts';
import { DiskPackageStore } from '../adapters/filesystem/disk-package-store.ts';
import { explainFailure } from '../adapters/filesystem/explain-failure.ts';
import { FastXmlReader } from '../adapters/xml/fast-xml-reader.ts';
import type { HashFormat } from '../formats/mhl/hash-format.ts';
import type { Progress } from '../ports.ts';
import type { Sealed } from '../steps/seal/seal-folder.ts';
import { sealFolder } from '../steps/seal/seal-folder.ts';
import { gemelVersion } from './assets.ts';
import { systemClock } from './system-clock.ts';

/** Seals a package that was just built; `name` is the one it will have. @throws {Error} when a history could not be written: what was just built cannot be at odds with itself. */
export async function sealPackage(folder: string, name: string, formats: readonly HashFormat[], progress: Progress, signal: AbortSignal): Promise<Sealed> {
  await using hasher = await FileHasher.open({ explain: explainFailure });
  const ports = { store: new DiskPackageStore(), hasher, writer: new DiskHistoryWriter(), xml: new FastXmlReader({ lists: true }), clock: systemClock, progress };
  const sealed = await sealFolder(folder, { formats, tool: { name: 'gemel', version: gemelVersion() }, hostname: hostname(), name, comment: 'turnover package', process: 'in-place' }, ports, signal);
  if (sealed.kind === 'refused') throw new Error(`the package could not be sealed: ${sealed.problems.map(({ file, found }) => `${file}: ${found}`).join('; ')}`);
  return sealed;
}
